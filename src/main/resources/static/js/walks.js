// Rows walked without signal wait here until the server has them. Used by the pages of a row and by the service worker.
"use strict";

const Walks = (() => {
  const open = () => new Promise((done, failed) => {
    const request = indexedDB.open("rootling-walks", 1);
    request.onupgradeneeded = () => request.result.createObjectStore("walks", { keyPath: "id" });
    request.onsuccess = () => done(request.result);
    request.onerror = () => failed(request.error);
  });

  // Resolves only once the transaction is on disk: what the page calls kept is kept.
  const run = async (mode, work) => {
    const db = await open();
    try {
      return await new Promise((done, failed) => {
        const transaction = db.transaction("walks", mode, { durability: "strict" });
        const request = work(transaction.objectStore("walks"));
        transaction.oncomplete = () => done(request && request.result);
        transaction.onerror = () => failed(transaction.error);
        transaction.onabort = () => failed(transaction.error);
      });
    } finally {
      db.close();
    }
  };

  const put = (walk) => run("readwrite", (s) => s.put(walk));
  const remove = (id) => run("readwrite", (s) => s.delete(id));
  const all = async (prefix) => (await run("readonly", (s) => s.getAll()))
    .filter((w) => w.prefix === prefix)
    .sort((a, b) => a.madeAt - b.madeAt || a.id.localeCompare(b.id));

  // Sends what waits, oldest first. Says what became of it: {sent, refused, state}.
  const send = async (prefix) => {
    const result = { sent: [], refused: [], state: "sent" };
    const waiting = (await all(prefix)).filter((w) => w.state === "waiting");
    if (waiting.length === 0) {
      return result;
    }
    const now = await Outbox.session(prefix);
    if (now.state !== "open") {
      result.state = now.state === "signed-out" || now.state === "removed" ? "signed-out" : "offline";
      return result;
    }
    const own = waiting.filter((w) => w.account === now.account);
    if (own.length < waiting.length) {
      result.state = "other-person";
    }
    for (let i = 0; i < own.length; i += 50) {
      const part = own.slice(i, i + 50);
      const asked = await Outbox.ask(prefix + "/walks", {
        method: "POST",
        headers: { "Content-Type": "application/json", Accept: "application/json", [now.header]: now.token },
        body: JSON.stringify({ walks: part.map(({ id, kind, row, fields }) => ({ id, kind, row, fields })) }),
      });
      if (!asked) {
        result.state = "offline";
        return result;
      }
      const { answer, said } = asked;
      if (!answer.ok) {
        result.state = answer.type === "opaqueredirect" || answer.status === 401 || answer.status === 403 ? "signed-out" : "offline";
        return result;
      }
      for (const taken of said.walks) {
        const walk = part.find((w) => w.id === taken.id);
        if (!walk) {
          continue;
        }
        if (taken.result === "refused") {
          await put({ ...walk, state: "refused", reason: taken.reason });
          result.refused.push({ walk, reason: taken.reason });
        } else {
          await remove(walk.id);
          result.sent.push(walk);
        }
      }
    }
    return result;
  };

  return { put, remove, all, send };
})();

if (typeof document !== "undefined") {
  (() => {
    const box = document.getElementById("walks");
    if (!box) {
      return;
    }
    const words = box.dataset;
    const prefix = words.prefix;
    const say = (text, ...args) => text.replace(/\{(\d)\}/g, (m, i) => args[Number(i)]);

    const line = (text, level) => {
      const p = document.createElement("p");
      p.className = level;
      p.textContent = text;
      box.append(p);
      return p;
    };
    const button = (text, work) => {
      const b = document.createElement("button");
      b.type = "button";
      b.className = "quiet";
      b.textContent = text;
      b.addEventListener("click", work);
      return b;
    };

    // What waits, and what the server would not take.
    const banner = async (state) => {
      const walks = await Walks.all(prefix);
      const waiting = walks.filter((w) => w.state === "waiting");
      box.replaceChildren();
      box.hidden = walks.length === 0;
      if (waiting.length > 0) {
        line("▲ " + say(words.waiting, waiting.length, [...new Set(waiting.map((w) => w.label))].join(", ")), "waiting");
        if (state === "signed-out") {
          const a = document.createElement("a");
          a.href = prefix + "/my-day";
          a.textContent = words.signIn;
          line("", "").append(a);
        } else if (state === "other-person") {
          line(words.other, "");
        }
        box.append(button(words.send, () => sync(true)));
      }
      for (const w of walks.filter((x) => x.state === "refused")) {
        line("■ " + say(words.refused, w.label, w.reason), "refused").append(" ", button(words.discard, async () => {
          if (window.confirm(words.discardAsk)) {
            await Walks.remove(w.id);
            banner();
          }
        }));
      }
    };

    const notice = (text, level) => {
      document.querySelectorAll(".notice").forEach((n) => n.remove());
      const div = document.createElement("div");
      div.className = "alert notice " + level;
      div.setAttribute("role", level === "danger" ? "alert" : "status");
      div.textContent = text;
      document.querySelector("main h1").after(div);
      div.scrollIntoView({ block: "center" });
    };

    // The service worker may have sent what this page still shows as waiting.
    const shown = () => box.querySelector("p.waiting") !== null;
    let queue = Promise.resolve(null);
    const once = async (reload) => {
      const before = shown();
      const result = await Walks.send(prefix);
      await banner(result.state);
      if (reload && (result.sent.length > 0 || (before && !shown()))) {
        window.location.reload();
      }
      return result;
    };
    const sync = (reload) => {
      queue = queue.then(() => once(reload)).catch(() => null);
      return queue;
    };

    // The day as the phone has it: a page kept yesterday would still say yesterday.
    const today = () => {
      const now = new Date();
      return now.getFullYear() + "-" + String(now.getMonth() + 1).padStart(2, "0") + "-" + String(now.getDate()).padStart(2, "0");
    };

    const fieldsOf = (form) => {
      const fields = {};
      new FormData(form).forEach((value, name) => {
        if (typeof value === "string" && value !== "" && name !== "once" && !name.startsWith("_")) {
          fields[name] = value;
        }
      });
      const on = form.elements.on;
      if (on && words.kept === "true" && on.value === on.defaultValue && today() > on.value) {
        fields.on = today();
      }
      return fields;
    };

    document.querySelectorAll("form[data-walk]").forEach((form) => {
      form.addEventListener("submit", async (event) => {
        event.preventDefault();
        if (form.dataset.busy) {
          return;
        }
        form.dataset.busy = "true";
        // A number of its own: the page may have come from the phone's store, and with it a number used before.
        const walk = {
          id: crypto.randomUUID(), kind: form.dataset.walk, row: words.row, label: words.label, prefix,
          account: words.account, fields: fieldsOf(form), madeAt: Date.now(), state: "waiting",
        };
        try {
          await Walks.put(walk);
        } catch (full) {
          form.submit();
          return;
        }
        const result = await sync(false);
        delete form.dataset.busy;
        const refusal = result && result.refused.find((r) => r.walk.id === walk.id);
        if (refusal) {
          // The person is here to correct it: say why, and keep what was typed.
          await Walks.remove(walk.id);
          await banner();
          notice(refusal.reason, "danger");
          return;
        }
        const sent = result && result.sent.some((w) => w.id === walk.id);
        sessionStorage.setItem("rootling-walk", sent ? words.taken : words.stored);
        if (!sent && "serviceWorker" in navigator) {
          navigator.serviceWorker.ready.then((w) => w.sync && w.sync.register("walks " + prefix)).catch(() => {});
        }
        window.location.assign(form.dataset.next);
      });
    });

    // Pages for places without signal: this row, what it names, and on request every row of a block.
    const keep = async (links) => {
      if (!("caches" in window)) {
        return false;
      }
      const pages = await caches.open("rootling-pages");
      const parts = await caches.open("rootling-parts");
      const more = new Set();
      for (const link of links) {
        const answer = await fetch(link, { redirect: "manual" }).catch(() => null);
        if (!answer || !answer.ok) {
          return false;
        }
        const named = /data-keep="([^"]*)"/.exec(await answer.clone().text());
        if (named) {
          named[1].split(" ").filter((l) => l !== "" && !links.includes(l)).forEach((l) => more.add(l));
        }
        await pages.put(link, answer);
      }
      for (const link of more) {
        const answer = await fetch(link, { redirect: "manual" }).catch(() => null);
        if (!answer || !answer.ok) {
          return false;
        }
        await pages.put(link, answer);
      }
      for (const part of document.querySelectorAll("link[rel=stylesheet], script[src], img[src]")) {
        const url = part.href || part.src;
        const answer = await fetch(url).catch(() => null);
        if (answer && answer.ok) {
          await parts.put(url, answer);
        }
      }
      return true;
    };

    document.querySelectorAll("button[data-keep-rows]").forEach((b) => {
      b.hidden = false;
      b.addEventListener("click", async () => {
        b.disabled = true;
        const done = await keep(b.dataset.keepRows.split(" ").map((id) => prefix + "/rows/" + id)).catch(() => false);
        b.disabled = false;
        notice(done ? words.keptRows : words.notKept, done ? "good" : "warn");
      });
    });

    const left = sessionStorage.getItem("rootling-walk");
    if (left) {
      sessionStorage.removeItem("rootling-walk");
      notice(left, left === words.taken ? "good" : "warn");
    }
    window.addEventListener("online", () => sync(true));
    const start = async () => {
      if ("serviceWorker" in navigator) {
        navigator.serviceWorker.register("/service-worker.js").catch(() => {});
      }
      await banner();
      const signal = await Outbox.session(prefix);
      box.dataset.kept = signal.state === "offline" ? "true" : "false";
      if (signal.state === "open") {
        await sync(true);
        // At a desk nobody walks away from the signal.
        if (words.keep && window.matchMedia("(max-width: 60rem)").matches) {
          box.dataset.ready = String(await keep(words.keep.split(" ")).catch(() => false));
        }
      }
    };
    start();
  })();
}
