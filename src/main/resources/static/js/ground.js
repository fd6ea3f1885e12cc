// Corners of a boundary: a live drawing beside the text, with side lengths, angles and area.
"use strict";

(() => {
  const SVG = "http://www.w3.org/2000/svg";
  const live = document.querySelector("[data-corners]");
  const text = live && document.getElementById(live.dataset.corners);
  if (!text) {
    return;
  }
  const drawing = live.querySelector(".corners-drawing");
  const sides = live.querySelector(".corners-sides");
  const areaShown = live.querySelector(".corners-area");
  let corners = [];
  let frame = null;

  const written = (n, digits) => n.toLocaleString(document.documentElement.lang, { minimumFractionDigits: digits, maximumFractionDigits: digits, useGrouping: false });
  const read = () => text.value.split(/\r?\n/).filter((l) => l.trim()).map((line) => {
    const parts = line.includes(";") ? line.split(";") : /\d\s+[-+.\d]/.test(line) && !/,\s/.test(line) ? line.trim().split(/\s+/) : line.trim().split(/\s*,\s*|\s+/);
    return parts.slice(0, 2).map((p) => Number(p.trim().replace(",", ".")));
  });
  const write = () => { text.value = corners.map(([x, y]) => `${+x.toFixed(2)} ${+y.toFixed(2)}`).join("\n"); };
  const make = (name, attributes, parent) => {
    const e = document.createElementNS(SVG, name);
    Object.entries(attributes).forEach(([k, v]) => e.setAttribute(k, v));
    parent.append(e);
    return e;
  };
  const area = (p) => Math.abs(p.reduce((sum, [x, y], i) => {
    const [nx, ny] = p[(i + 1) % p.length];
    return sum + x * ny - nx * y;
  }, 0)) / 2;
  const turn = (a, b, c) => Math.sign((b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]));
  const crosses = (p) => p.some((a, i) => p.some((c, j) => {
    const b = p[(i + 1) % p.length];
    const d = p[(j + 1) % p.length];
    return Math.abs(i - j) > 1 && Math.abs(i - j) < p.length - 1 && turn(a, b, c) * turn(a, b, d) < 0 && turn(c, d, a) * turn(c, d, b) < 0;
  }));

  const draw = () => {
    if (corners.length < 3 || corners.length > 200 || corners.flat().some((n) => !Number.isFinite(n))) {
      live.hidden = true;
      return;
    }
    live.hidden = false;
    const xs = corners.map((c) => c[0]);
    const ys = corners.map((c) => c[1]);
    if (!frame) {
      const span = Math.max(Math.max(...xs) - Math.min(...xs), Math.max(...ys) - Math.min(...ys), 1);
      frame = { left: Math.min(...xs) - span * 0.15, top: Math.max(...ys) + span * 0.15, width: Math.max(...xs) - Math.min(...xs) + span * 0.3, height: Math.max(...ys) - Math.min(...ys) + span * 0.3 };
    }
    const focused = document.activeElement && document.activeElement.dataset ? document.activeElement.dataset.corner : undefined;
    drawing.replaceChildren();
    const svg = make("svg", { class: "plan", viewBox: `0 0 ${frame.width} ${frame.height}`, role: "group" }, drawing);
    const size = svg.getBoundingClientRect();
    // one pixel of the screen, so that a corner is as large under a thumb on a phone as on a desk
    const pen = Math.max(frame.width / (size.width || 400), frame.height / (size.height || 400));
    const at = ([x, y]) => [x - frame.left, frame.top - y];
    make("polygon", { class: "boundary", points: corners.map((c) => at(c).join(" ")).join(" "), "stroke-width": pen * 2 }, svg);
    sides.replaceChildren();
    corners.forEach((c, i) => {
      const next = corners[(i + 1) % corners.length];
      const before = corners[(i + corners.length - 1) % corners.length];
      const [x, y] = at(c);
      const [nx, ny] = at(next);
      const length = Math.hypot(next[0] - c[0], next[1] - c[1]);
      const bend = Math.atan2(before[1] - c[1], before[0] - c[0]) - Math.atan2(next[1] - c[1], next[0] - c[0]);
      const degrees = ((bend * 180 / Math.PI) % 360 + 360) % 360;
      const label = make("text", { x: (x + nx) / 2, y: (y + ny) / 2, "font-size": pen * 14, "text-anchor": "middle", "pointer-events": "none" }, svg);
      label.textContent = `${written(length, 2)} ${live.dataset.unit}`;
      make("circle", { class: "mark planted corner-ring", cx: x, cy: y, r: pen * 10, "stroke-width": pen * 2, "pointer-events": "none" }, svg);
      const knob = make("circle", { class: "corner-knob", cx: x, cy: y, r: pen * 22, tabindex: 0, role: "button", "aria-label": `${live.dataset.corner} ${i + 1}: ${written(c[0], 2)} ${written(c[1], 2)}; ${live.dataset.move}`, "data-corner": i }, svg);
      const number = make("text", { x, y: y + pen * 5, "font-size": pen * 13, "text-anchor": "middle", "pointer-events": "none" }, svg);
      number.textContent = i + 1;
      knob.addEventListener("pointerdown", (event) => drag(event, i, svg));
      knob.addEventListener("keydown", (event) => step(event, i));
      const item = document.createElement("li");
      item.textContent = `${live.dataset.side} ${i + 1}–${(i + 1) % corners.length + 1}: ${written(length, 2)} ${live.dataset.unit}, ${live.dataset.angle} ${written(degrees, 1)}°`;
      sides.append(item);
    });
    areaShown.textContent = crosses(corners) ? live.dataset.crossing : `${written(area(corners), 1)} ${live.dataset.area}`;
    if (focused !== undefined) {
      const again = svg.querySelector(`[data-corner="${focused}"]`);
      if (again) {
        again.focus();
      }
    }
  };

  const drag = (event, i, svg) => {
    event.preventDefault();
    const box = svg.getBoundingClientRect();
    const scale = Math.max(frame.width / box.width, frame.height / box.height);
    const from = [event.clientX, event.clientY];
    const start = corners[i].slice();
    const move = (e) => {
      corners[i] = [start[0] + (e.clientX - from[0]) * scale, start[1] - (e.clientY - from[1]) * scale];
      write();
      draw();
    };
    const end = () => {
      window.removeEventListener("pointermove", move);
      window.removeEventListener("pointerup", end);
      window.removeEventListener("pointercancel", end);
      frame = null;
      draw();
    };
    window.addEventListener("pointermove", move);
    window.addEventListener("pointerup", end);
    window.addEventListener("pointercancel", end);
  };
  const STEPS = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, 1], ArrowDown: [0, -1] };
  const step = (event, i) => {
    const way = STEPS[event.key];
    if (way) {
      event.preventDefault();
      const by = event.shiftKey ? 0.1 : 1;
      corners[i] = [corners[i][0] + way[0] * by, corners[i][1] + way[1] * by];
      write();
      draw();
    }
  };
  text.addEventListener("input", () => { frame = null; corners = read(); draw(); });
  corners = read();
  draw();
})();
