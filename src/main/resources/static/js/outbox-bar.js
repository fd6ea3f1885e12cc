// On every page: how many logs wait on this phone and since when, and sends them when it can.
"use strict";

const OutboxBar = (() => {
  const box = document.getElementById("outbox");
  const words = box.dataset;
  const prefix = box.dataset.prefix || "";
  const say = (text, ...args) => text.replace(/\{(\d)\}/g, (m, i) => args[Number(i)]);
  let touched = false;
  document.addEventListener("input", () => { touched = true; });

  const line = (text, level) => {
    const p = document.createElement("p");
    p.className = level;
    p.textContent = text;
    box.append(p);
    return p;
  };
  const button = (text, quiet, work) => {
    const b = document.createElement("button");
    b.type = "button";
    b.className = quiet ? "quiet" : "";
    b.textContent = text;
    b.addEventListener("click", work);
    return b;
  };

  // The file is what the field log API takes, so that a lead can send it in.
  const save = async () => {
    const entries = (await Outbox.all()).map(Outbox.plain);
    const a = document.createElement("a");
    a.href = URL.createObjectURL(new Blob([JSON.stringify({ entries }, null, 1)], { type: "application/json" }));
    a.download = "field-logs.json";
    a.click();
    URL.revokeObjectURL(a.href);
  };

  const show = async (states) => {
    const entries = await Outbox.all();
    const waiting = entries.filter((e) => e.state === "waiting");
    const photos = entries.filter((e) => e.state === "photo");
    const refused = entries.filter((e) => e.state.startsWith("refused"));
    box.replaceChildren();
    box.hidden = entries.length === 0;
    const unsent = [...waiting, ...photos];
    if (unsent.length > 0) {
      const since = new Date(Math.min(...unsent.map((e) => e.madeAt)));
      const [one, many] = waiting.length > 0 ? [words.one, words.many] : [words.onePhoto, words.manyPhotos];
      line("\u25b2 " + say(unsent.length === 1 ? one : many, unsent.length,
        since.toLocaleString([], { weekday: "short", day: "numeric", month: "short", hour: "2-digit", minute: "2-digit" })), "waiting");
      if (states.includes("signed-out") && window.location.pathname !== "/sign-in") {
        const a = document.createElement("a");
        a.href = unsent[0].prefix + "/my-day";
        a.textContent = words.signIn;
        line("", "").append(a);
      } else if (states.includes("signed-out")) {
        line(words.signIn, "");
      } else if (states.includes("removed")) {
        line(words.removed, "");
      } else if (states.includes("other-person")) {
        line(words.other, "");
      } else if (states.includes("trouble")) {
        line(words.trouble, "");
      }
      const row = document.createElement("div");
      row.className = "row";
      row.append(button(words.send, false, () => sync(true)));
      if (states.includes("removed") || states.includes("trouble")) {
        row.append(button(words.save, true, save));
      }
      box.append(row);
    }
    for (const e of refused) {
      const text = e.state === "refused" ? words.refused : words.refusedPhoto;
      line("\u25a0 " + say(text, e.row + " " + e.run, e.reason || ""), "refused").append(" ", button(words.discard, true, async () => {
        if (window.confirm(words.discardAsk)) {
          await Outbox.remove(e.id);
          await show([]);
        }
      }));
    }
    document.dispatchEvent(new CustomEvent("outbox", { detail: waiting }));
  };

  let queue = Promise.resolve(null);
  const once = async (reload) => {
    const all = { sent: [], kept: [], refused: [], photos: 0 };
    const states = [];
    for (const p of new Set((await Outbox.all()).map((e) => e.prefix))) {
      const result = await Outbox.send(p);
      states.push(result.state);
      ["sent", "kept", "refused"].forEach((k) => all[k].push(...result[k]));
      all.photos += result.photos;
    }
    await show(states);
    const news = await Outbox.takeNews();
    const kept = news.flatMap((n) => n.kept);
    if (kept.length > 0) {
      sessionStorage.setItem("rootling-notice", say(words.conflict, kept[0]));
    }
    // Only pages that show the logs need it, and never one that somebody is filling in.
    if (reload && !touched && document.querySelector("[data-shows-logs]") && news.length > 0) {
      window.location.reload();
    }
    return all;
  };
  const sync = (reload) => {
    queue = queue.then(() => once(reload)).catch(() => null);
    return queue;
  };

  window.addEventListener("online", () => sync(true));
  if ("serviceWorker" in navigator) {
    navigator.serviceWorker.addEventListener("message", () => sync(true));
  }
  // A phone can have a network and the server still be out of reach.
  setInterval(async () => {
    if (!document.hidden && (await Outbox.all()).some((e) => !e.state.startsWith("refused"))) {
      sync(true);
    }
  }, 60000);
  document.addEventListener("visibilitychange", () => { if (!document.hidden) { sync(true); } });
  document.addEventListener("submit", (event) => {
    if (event.target.action && event.target.action.endsWith("/sign-out")) {
      Outbox.forgetPages();
    }
  });
  const started = show([]).then(() => sync(true)).catch(() => null);

  return { box, words, prefix, say, show, sync, started, untouched: () => { touched = false; } };
})();
