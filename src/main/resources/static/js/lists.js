// Tables can be narrowed, sorted by a column, paged and taken along as CSV. Those that the server does this for say so
// (data-listed); without this script all others are plain tables.
"use strict";

(() => {
  const words = document.documentElement.dataset;
  const language = document.documentElement.lang || "en";
  const LEAST = 5;
  const PAGE = 50;
  const GLANCE = 12;
  const decimal = (1.5).toLocaleString(language).charAt(1);
  const months = Array.from({ length: 12 }, (_, m) => new Date(2024, m, 15).toLocaleDateString(language, { month: "long" }).toLowerCase());
  const folded = (shown) => shown.normalize("NFKD").replace(/\p{M}+/gu, "").toLowerCase().replace(/ß/g, "ss").replace(/œ/g, "oe").replace(/æ/g, "ae");
  const text = (cell) => (cell ? cell.textContent.trim().replace(/\s+/g, " ") : "");

  // "1 200", "1.200,5 m" and "12 Apr 2027" sort as what they are; all else as words.
  const worth = (cell) => {
    const time = cell && cell.querySelector("time[datetime]");
    if (time) {
      return [0, Date.parse(time.dateTime)];
    }
    const shown = text(cell);
    const day = shown.match(/^(?:\p{L}+\.?,? )?(\d{1,2})(?:\.|er)? (\p{L}{3,})\.?(?: (\d{4}))?/u);
    if (day) {
      const name = day[2].toLowerCase();
      const month = months.findIndex((m) => m.startsWith(name.slice(0, 4)) || (m.startsWith(name.slice(0, 3)) && name.length === 3));
      if (month >= 0) {
        return [0, Date.UTC(day[3] ? Number(day[3]) : 2000, month, Number(day[1]))];
      }
    }
    const number = shown.match(/^[-\u2212]?\d[\d\s.,\u00a0\u202f’]*/);
    if (number) {
      const plain = number[0].replace("\u2212", "-").split(decimal).map((p) => p.replace(/[^\d-]/g, "")).join(".");
      return [0, Number(plain)];
    }
    return shown === "" || shown === "–" ? [2, ""] : [1, shown];
  };
  const compare = ([kind, a], [other, b]) => (kind !== other ? kind - other : kind === 0 ? a - b : String(a).localeCompare(String(b), language, { numeric: true }));

  // A cell that a spreadsheet would take for a formula gets an apostrophe in front.
  const csv = (value) => {
    const safe = /^[=+\-@\t\r']/.test(value) && !/^-?\d+([.,]\d+)?$/.test(value) ? "'" + value : value;
    return /[",\n]/.test(safe) ? '"' + safe.replace(/"/g, '""') + '"' : safe;
  };

  const make = (name, attributes, parent) => {
    const e = document.createElement(name);
    Object.entries(attributes).forEach(([k, v]) => { e[k] = v; });
    parent.append(e);
    return e;
  };

  // A table that is wider than the screen is moved with the arrow keys too.
  document.querySelectorAll("main table").forEach((table) => {
    if (table.scrollWidth > table.clientWidth + 1 && getComputedStyle(table).overflowX === "auto" && !table.querySelector("a, button, input, select")) {
      table.tabIndex = 0;
    }
  });

  document.querySelectorAll("main table").forEach((table, index) => {
    const head = table.tHead && table.tHead.rows.length === 1 ? table.tHead.rows[0] : null;
    const body = table.tBodies.length === 1 ? table.tBodies[0] : null;
    if (!head || !body || body.rows.length < LEAST || table.closest("[data-listed], [data-stands-at]") || table.closest("form, details:not([open])") || table.querySelector("[colspan], [rowspan]")) {
      return;
    }
    const rows = Array.from(body.rows);
    const tools = document.createElement("div");
    tools.className = "row list-tools no-print";
    const label = make("label", { textContent: words.listNarrow, htmlFor: "narrow-" + index }, tools);
    const narrow = make("input", { type: "search", id: label.htmlFor, autocomplete: "off" }, tools);
    const by = make("select", { className: "sort-by" }, tools);
    by.setAttribute("aria-label", words.listSort);
    make("option", { value: "", textContent: words.listSort }, by);
    const take = make("button", { type: "button", className: "quiet", textContent: words.listCsv }, tools);
    const said = make("span", { className: "soft" }, tools);
    said.setAttribute("aria-live", "polite");
    if (rows.length > GLANCE) {
      (table.closest(".scroll") || table).before(tools);
    } else {
      const fold = document.createElement("details");
      fold.className = "list-fold no-print";
      make("summary", { textContent: words.listTools }, fold);
      fold.append(tools);
      (table.closest(".scroll") || table).before(fold);
    }

    // Of the rows that fit, a page is shown; on paper all of them are.
    const fitting = new Set(rows);
    let page = 0;
    const pager = document.createElement("div");
    pager.className = "row list-tools no-print";
    const back = make("button", { type: "button", className: "quiet", textContent: words.listBack }, pager);
    const where = make("span", {}, pager);
    where.setAttribute("aria-live", "polite");
    const on = make("button", { type: "button", className: "quiet", textContent: words.listOn }, pager);
    (table.closest(".scroll") || table).after(pager);
    const show = () => {
      const pages = Math.max(1, Math.ceil(fitting.size / PAGE));
      page = Math.max(0, Math.min(page, pages - 1));
      let nth = 0;
      Array.from(body.rows).forEach((row) => {
        row.hidden = !fitting.has(row);
        row.classList.toggle("off-page", Math.floor(nth / PAGE) !== page);
        nth += fitting.has(row) ? 1 : 0;
      });
      pager.hidden = pages === 1;
      back.disabled = page === 0;
      on.disabled = page === pages - 1;
      where.textContent = words.listPage.replace("{0}", page + 1).replace("{1}", pages);
    };
    const turn = (by) => {
      page += by;
      show();
    };
    back.addEventListener("click", () => turn(-1));
    on.addEventListener("click", () => turn(1));

    const order = (cell, column, down) => {
      Array.from(head.cells).forEach((c) => c.removeAttribute("aria-sort"));
      cell.setAttribute("aria-sort", down ? "descending" : "ascending");
      rows.map((row) => [worth(row.cells[column]), row])
        .sort((a, b) => (down ? compare(b[0], a[0]) : compare(a[0], b[0])))
        .forEach(([, row]) => body.append(row));
      page = 0;
      show();
    };

    narrow.addEventListener("input", () => {
      const asked = folded(narrow.value.trim()).split(/\s+/).filter(Boolean);
      fitting.clear();
      rows.forEach((row) => {
        const there = folded(text(row));
        if (asked.every((word) => there.includes(word))) {
          fitting.add(row);
        }
      });
      page = 0;
      show();
      said.textContent = asked.length ? words.listLeft.replace("{0}", fitting.size).replace("{1}", rows.length) : "";
    });

    Array.from(head.cells).forEach((cell, column) => {
      const title = text(cell);
      if (!title || cell.querySelector("a, button, input") || rows.every((row) => !text(row.cells[column]) || row.cells[column].querySelector("button, select, input"))) {
        return;
      }
      const button = make("button", { type: "button", className: "sort", textContent: "⇅" }, cell);
      button.setAttribute("aria-label", words.listSort + " " + title);
      button.addEventListener("click", () => order(cell, column, cell.getAttribute("aria-sort") === "ascending"));
      make("option", { value: column, textContent: title }, by);
    });
    by.addEventListener("change", () => {
      if (by.value !== "") {
        order(head.cells[Number(by.value)], Number(by.value), false);
      }
    });

    take.addEventListener("click", () => {
      const lines = [head, ...Array.from(body.rows).filter((row) => fitting.has(row))]
        .map((row) => Array.from(row.cells).map((cell) => {
          const bare = cell.cloneNode(true);
          bare.querySelectorAll("form, select, input, button, [aria-hidden=true]").forEach((e) => e.remove());
          return csv(text(bare));
        }).join(","));
      const file = new Blob(["\ufeff" + lines.join("\r\n") + "\r\n"], { type: "text/csv;charset=utf-8" });
      const link = make("a", { href: URL.createObjectURL(file), download: document.title.split(" · ")[0].replace(/[^\p{L}\d]+/gu, "-") + ".csv" }, tools);
      link.click();
      URL.revokeObjectURL(link.href);
      link.remove();
    });
    show();
  });
})();
