// My day on a phone: thumb buttons, a clock, and what is kept for places without signal. Without this script the forms
// still work.
"use strict";

(() => {
  const main = document.getElementById("main");
  const { box, words, prefix, say, sync } = OutboxBar;

  const numbers = (text) => {
    const set = new Set();
    for (const part of text.split(/[,;]/)) {
      const m = part.trim().match(/^(\d{1,6})(?:\s*[-\u2013]\s*(\d{1,6}))?$/);
      if (m) {
        for (let p = Number(m[1]); p <= Number(m[2] || m[1]) && p < Number(m[1]) + 5000; p += 1) {
          set.add(p);
        }
      }
    }
    return set;
  };

  const short = (list) => {
    const runs = [];
    for (const p of list) {
      const last = runs[runs.length - 1];
      if (last && last[1] === p - 1) {
        last[1] = p;
      } else {
        runs.push([p, p]);
      }
    }
    return runs.map(([a, b]) => (a === b ? String(a) : a + "-" + b)).join(", ");
  };

  // Places of this row that wait to be sent.
  const mark = (waiting) => {
    document.querySelectorAll(".strip li.waiting").forEach((c) => c.classList.remove("waiting"));
    const form = document.getElementById("log");
    for (const e of waiting) {
      if (form && e.task === form.dataset.task) {
        const but = numbers(e.but || "");
        for (const p of numbers(e.run)) {
          const cell = document.querySelector(`.strip li[data-place="${p}"]`);
          if (cell && !but.has(p) && cell.classList.contains("left")) {
            cell.classList.add("waiting");
            cell.querySelector("span").textContent = "▲";
          }
        }
      }
    }
  };

  document.addEventListener("outbox", (event) => mark(event.detail));

  // Tasks and plans of the next days are kept for places without signal; on my day, what is no task of mine any more goes.
  const keep = async () => {
    if (!("caches" in window) || !navigator.onLine) {
      return;
    }
    const cache = await caches.open("rootling-pages");
    const links = [window.location.pathname, ...Array.from(document.querySelectorAll("a[data-keep]"), (a) => a.getAttribute("href"))].slice(0, 80);
    for (const link of links) {
      try {
        const answer = await fetch(link, { redirect: "manual" });
        if (answer.ok) {
          await cache.put(link, answer);
        }
      } catch (offline) {
        return;
      }
    }
    if (window.location.pathname === prefix + "/my-day") {
      for (const request of await cache.keys()) {
        const path = new URL(request.url).pathname;
        if (path.startsWith(prefix + "/my-day/") && !links.includes(path)) {
          await cache.delete(request);
        }
      }
    }
    // The looks of these pages too: they were fetched before the service worker could see them.
    const parts = await caches.open("rootling-parts");
    for (const part of document.querySelectorAll("link[rel=stylesheet], script[src], img[src]")) {
      const url = part.href || part.src;
      const answer = await fetch(url).catch(() => null);
      if (answer && answer.ok) {
        await parts.put(url, answer);
      }
    }
    box.dataset.kept = "true";
  };

  // Noon of a day where the vineyard is, as an instant.
  const noon = (day, zone) => {
    const guess = Date.parse(day + "T12:00:00Z");
    const shown = Object.fromEntries(new Intl.DateTimeFormat("en-GB", { timeZone: zone, year: "numeric", month: "2-digit", day: "2-digit", hour: "2-digit", minute: "2-digit", hourCycle: "h23" })
      .formatToParts(guess).map((p) => [p.type, p.value]));
    const there = Date.UTC(shown.year, shown.month - 1, shown.day, shown.hour, shown.minute);
    return new Date(guess - (there - guess)).toISOString();
  };

  // A phone's photo is made smaller before it waits; what cannot be read is kept as it is if the server would take it.
  const MOST_BYTES = 12 * 1024 * 1024;
  const smaller = async (file) => {
    try {
      const picture = await createImageBitmap(file);
      const scale = Math.min(1, 2000 / Math.max(picture.width, picture.height));
      const canvas = document.createElement("canvas");
      canvas.width = Math.round(picture.width * scale);
      canvas.height = Math.round(picture.height * scale);
      canvas.getContext("2d").drawImage(picture, 0, 0, canvas.width, canvas.height);
      const blob = await new Promise((done) => { canvas.toBlob(done, "image/jpeg", 0.85); });
      return blob || file;
    } catch (unreadable) {
      return file;
    }
  };

  const form = document.getElementById("log");
  if (form) {
    const places = form.elements.places;
    // A page that is opened twice without signal must not give two logs one number.
    form.elements.entry.value = crypto.randomUUID();
    const bounds = () => {
      const all = [...numbers(places.value)].sort((a, b) => a - b);
      return all.length === 0 ? [1, 1] : [all[0], all[all.length - 1]];
    };
    const choose = () => {
      const chosen = numbers(places.value);
      numbers(form.elements.but.value).forEach((p) => chosen.delete(p));
      document.querySelectorAll(".strip li").forEach((c) => c.classList.toggle("chosen", chosen.has(Number(c.dataset.place))));
    };
    document.querySelectorAll("[data-quick]").forEach((q) => { q.hidden = false; });
    form.addEventListener("click", (event) => {
      const button = event.target.closest("[data-set], [data-step]");
      if (!button) {
        return;
      }
      if (button.dataset.set === "all") {
        places.value = form.dataset.left ?? form.dataset.all;
      } else {
        let [from, to] = bounds();
        const by = button.dataset.step.endsWith("+") ? 1 : -1;
        if (button.dataset.step.startsWith("from")) {
          from = Math.max(1, from + by);
          to = Math.max(from, to);
        } else {
          to = Math.max(1, to + by);
          from = Math.min(from, to);
        }
        places.value = from === to ? String(from) : from + "-" + to;
      }
      choose();
    });
    // A tap on a place leaves it out, or takes it in again.
    document.querySelector(".strip").addEventListener("click", (event) => {
      const cell = event.target.closest("li.left");
      if (!cell) {
        return;
      }
      const place = Number(cell.dataset.place);
      const but = numbers(form.elements.but.value);
      const chosen = numbers(places.value);
      if (!chosen.has(place)) {
        places.value = places.value.trim() === "" ? String(place) : places.value + ", " + place;
      } else if (but.has(place)) {
        but.delete(place);
      } else {
        but.add(place);
      }
      form.elements.but.value = [...but].sort((a, b) => a - b).join(", ");
      choose();
    });
    form.addEventListener("input", choose);
    choose();
    // What waits to be sent is done: it is not offered again.
    const offered = places.value;
    document.addEventListener("outbox", (event) => {
      const left = numbers(form.dataset.all);
      for (const e of event.detail.filter((w) => w.task === form.dataset.task)) {
        const but = numbers(e.but || "");
        numbers(e.run).forEach((p) => { if (!but.has(p)) { left.delete(p); } });
      }
      form.dataset.left = short([...left].sort((a, b) => a - b));
      if (places.value === offered && left.size < numbers(form.dataset.all).size) {
        places.value = form.dataset.left;
        choose();
      }
    });

    const clock = form.querySelector("[data-clock]");
    const key = "rootling-clock-" + form.dataset.task;
    clock.hidden = false;
    const shown = () => { clock.textContent = localStorage.getItem(key) ? words.stop : words.start; };
    clock.addEventListener("click", () => {
      const started = Number(localStorage.getItem(key));
      if (started) {
        const minutes = Math.max(1, Math.round((Date.now() - started) / 60000));
        form.elements.minutes.value = Math.min(1440, Number(form.elements.minutes.value || 0) + minutes);
        localStorage.removeItem(key);
      } else {
        localStorage.setItem(key, String(Date.now()));
      }
      shown();
    });
    shown();

    form.addEventListener("submit", async (event) => {
      event.preventDefault();
      const found = [];
      const whats = form.querySelectorAll("[name=foundWhat]");
      form.querySelectorAll("[name=foundPlace]").forEach((p, i) => {
        if (p.value.trim() !== "" && whats[i].value !== "") {
          found.push({ place: p.value.trim(), what: whats[i].value });
        }
      });
      const skew = (await Outbox.fact("skew").catch(() => 0)) || 0;
      const now = new Date(Date.now() + skew);
      const today = form.elements.on.defaultValue;
      const on = form.elements.on.value;
      const run = places.value.trim();
      const entry = {
        id: form.elements.entry.value,
        prefix,
        account: box.dataset.account,
        task: form.dataset.task,
        row: form.dataset.row,
        run,
        // Something found and no places done: all places are left out again.
        places: form.dataset.row + " " + (run === "" ? form.dataset.every : run),
        but: run === "" ? form.dataset.every : form.elements.but.value,
        found,
        minutes: form.elements.minutes.value === "" ? null : Number(form.elements.minutes.value),
        at: on !== "" && on !== today ? noon(on, box.dataset.zone) : now.toISOString(),
        note: form.elements.note.value || null,
        person: form.elements.person ? form.elements.person.value : "",
        madeAt: Date.now(),
        state: "waiting",
      };
      const file = form.elements.photo.files[0];
      if (file) {
        entry.photo = await smaller(file);
        entry.photoId = crypto.randomUUID();
        if (entry.photo.size > MOST_BYTES) {
          notice(say(words.photoLarge, Math.ceil(entry.photo.size / 1048576), MOST_BYTES / 1048576), "danger");
          return;
        }
      }
      if (run === "" && found.length === 0) {
        form.submit();
        return;
      }
      try {
        await Outbox.put(entry);
      } catch (full) {
        form.submit();
        return;
      }
      const result = await sync(false);
      const refusal = result && result.refused.find((r) => r.entry.id === entry.id);
      if (refusal) {
        // The person is here to correct it: say why, and let the form go again under a new number.
        await Outbox.remove(entry.id);
        form.elements.entry.value = crypto.randomUUID();
        await OutboxBar.show([]);
        notice(refusal.reason, "danger");
        return;
      }
      const kept = result && result.kept.find((r) => r.entry.id === entry.id);
      const gone = !(await Outbox.all()).some((e) => e.id === entry.id && e.state === "waiting");
      OutboxBar.untouched();
      if (kept || gone) {
        if (!sessionStorage.getItem("rootling-notice")) {
          sessionStorage.setItem("rootling-notice", kept ? say(words.conflict, kept.reason) : words.logged);
        }
        window.location.reload();
        return;
      }
      form.elements.entry.value = crypto.randomUUID();
      form.elements.places.value = form.dataset.left ?? "";
      form.elements.but.value = "";
      form.elements.minutes.value = "";
      form.elements.photo.value = "";
      form.querySelectorAll("[name=foundPlace], [name=foundWhat]").forEach((f) => { f.value = ""; });
      notice(words.stored, "warn");
      choose();
      if ("serviceWorker" in navigator) {
        const worker = await navigator.serviceWorker.ready;
        if (worker.sync) {
          worker.sync.register("outbox " + prefix).catch(() => {});
        }
      }
    });
  }

  const notice = (text, level) => {
    document.querySelectorAll(".notice").forEach((n) => n.remove());
    const div = document.createElement("div");
    div.className = "alert notice " + level;
    div.setAttribute("role", level === "danger" ? "alert" : "status");
    div.textContent = text;
    main.querySelector("h1").after(div);
    div.scrollIntoView({ block: "center" });
  };
  const left = sessionStorage.getItem("rootling-notice");
  if (left) {
    sessionStorage.removeItem("rootling-notice");
    notice(left, "good");
  }

  const start = async () => {
    if ("serviceWorker" in navigator) {
      navigator.serviceWorker.register("/service-worker.js").catch(() => {});
    }
    document.dispatchEvent(new CustomEvent("outbox", { detail: (await Outbox.all()).filter((e) => e.state === "waiting") }));
    await OutboxBar.started;
    if ((await Outbox.session(prefix)).state === "open") {
      await keep();
    }
  };
  start();
})();
