// Logs made in the field wait here until the server has them. Used by the pages and by the service worker.
"use strict";

const Outbox = (() => {
  const STORE = "entries";

  const open = () => new Promise((done, failed) => {
    const request = indexedDB.open("rootling-outbox", 1);
    request.onupgradeneeded = () => {
      request.result.createObjectStore(STORE, { keyPath: "id" });
      request.result.createObjectStore("facts");
    };
    request.onsuccess = () => done(request.result);
    request.onerror = () => failed(request.error);
  });

  // Resolves only once the transaction is on disk: what the page calls kept is kept.
  const run = async (store, mode, work) => {
    const db = await open();
    try {
      return await new Promise((done, failed) => {
        const transaction = db.transaction(store, mode, { durability: "strict" });
        const request = work(transaction.objectStore(store));
        transaction.oncomplete = () => done(request && request.result);
        transaction.onerror = () => failed(transaction.error);
        transaction.onabort = () => failed(transaction.error);
      });
    } finally {
      db.close();
    }
  };

  const put = (entry) => run(STORE, "readwrite", (s) => s.put(entry));
  const remove = (id) => run(STORE, "readwrite", (s) => s.delete(id));
  const setFact = (name, value) => run("facts", "readwrite", (s) => s.put(value, name));
  const fact = (name) => run("facts", "readonly", (s) => s.get(name));
  const all = async () => (await run(STORE, "readonly", (s) => s.getAll()))
    .sort((a, b) => a.at.localeCompare(b.at) || a.id.localeCompare(b.id));

  const waiting = async (prefix) => (await all()).filter((e) => e.prefix === prefix);

  // What was sent while no page looked, kept until one says it: by the service worker, for instance.
  const addNews = (news) => run("facts", "readwrite", (s) => {
    const request = s.get("news");
    request.onsuccess = () => s.put([...(request.result || []), news], "news");
    return request;
  });
  const takeNews = () => run("facts", "readwrite", (s) => {
    const request = s.get("news");
    request.onsuccess = () => s.delete("news");
    return request;
  }).then((news) => news || []);

  // Pages kept for someone else must not open for who is signed in now.
  const forgetPages = async () => {
    if (typeof caches === "undefined") {
      return;
    }
    const cache = await caches.open("rootling-pages");
    for (const request of await cache.keys()) {
      if (new URL(request.url).pathname !== "/offline") {
        await cache.delete(request);
      }
    }
  };

  // The answer and what it says; null without signal, also when that goes halfway through the answer.
  const ask = async (path, options) => {
    try {
      const answer = await fetch(path, { redirect: "manual", ...options });
      return { answer, said: answer.ok ? await answer.json() : null };
    } catch (offline) {
      return null;
    }
  };

  // Who is signed in, a fresh token, and the vineyard's time; otherwise why not: offline, signed-out or removed.
  const session = async (prefix) => {
    const asked = await ask(prefix + "/outbox", { headers: { Accept: "application/json" }, cache: "no-store" });
    if (!asked) {
      return { state: "offline" };
    }
    const { answer, said } = asked;
    if (answer.type === "opaqueredirect" || answer.status === 401) {
      return { state: "signed-out" };
    }
    if (answer.status === 403 || answer.status === 404) {
      return { state: "removed" };
    }
    if (!answer.ok) {
      return { state: "trouble" };
    }
    await setFact("skew", Date.parse(said.now) - Date.now());
    if ((await fact("account")) !== said.account) {
      await forgetPages();
      await setFact("account", said.account);
    }
    return { state: "open", ...said };
  };

  const post = (prefix, now, entries) => ask(prefix + "/outbox", {
    method: "POST",
    headers: { "Content-Type": "application/json", Accept: "application/json", [now.header]: now.token },
    body: JSON.stringify({ entries: entries.map(plain) }),
  });

  // An entry as the API takes it.
  const plain = ({ id, task, places, but, found, minutes, at, note, person }) => ({ id, task, places, but, found, minutes, at, note, person });

  const settle = async (part, answers, result) => {
    for (const e of answers) {
      const entry = part.find((p) => p.id === e.id);
      if (!entry) {
        continue;
      }
      if (e.result === "refused") {
        await put({ ...entry, state: "refused", reason: e.reason });
        result.refused.push({ entry, reason: e.reason });
      } else {
        // A photo goes after its entry.
        await (entry.photo ? put({ ...entry, state: "photo" }) : remove(entry.id));
        (e.result === "conflict" ? result.kept : result.sent).push({ entry, reason: e.reason });
      }
    }
  };

  // Sends one part; says whether to go on. One entry that upsets the server must not hold up the others.
  const sendPart = async (prefix, now, part, result) => {
    const asked = await post(prefix, now, part);
    if (asked && asked.said) {
      await settle(part, asked.said.entries, result);
      return true;
    }
    const answer = asked && asked.answer;
    const stop = !answer ? "offline"
      : answer.type === "opaqueredirect" || answer.status === 401 ? "signed-out"
        : answer.status === 403 || answer.status === 404 ? "removed" : null;
    if (stop) {
      result.state = stop;
      return false;
    }
    if (part.length > 1) {
      for (const entry of part) {
        if (!(await sendPart(prefix, now, [entry], result))) {
          return false;
        }
      }
      return true;
    }
    result.state = "trouble";
    return true;
  };

  // Sends the photo of an entry that was taken; says whether to go on.
  const sendPhoto = async (prefix, now, entry, result) => {
    const form = new FormData();
    form.append("photo", entry.photo, "photo.jpg");
    const asked = await ask(prefix + "/outbox/" + entry.id + "/photos/" + entry.photoId, {
      method: "POST", headers: { Accept: "application/json", [now.header]: now.token }, body: form,
    });
    if (!asked) {
      result.state = "offline";
      return false;
    }
    const { answer, said } = asked;
    if (answer.type === "opaqueredirect" || answer.status === 401 || answer.status === 403) {
      result.state = "signed-out";
      return false;
    }
    if (said && said.result !== "refused") {
      await remove(entry.id);
      result.photos += 1;
    } else if (said || answer.status === 404 || answer.status === 413) {
      await put({ ...entry, state: "refused-photo", reason: said ? said.reason : "" });
    } else {
      result.state = "trouble";
    }
    return true;
  };

  const sendPhotos = async (prefix, now, result) => {
    for (const entry of (await waiting(prefix)).filter((e) => e.state === "photo" && e.account === now.account)) {
      if (!(await sendPhoto(prefix, now, entry, result))) {
        return;
      }
    }
  };

  const sendAll = async (prefix) => {
    const result = { sent: [], kept: [], refused: [], photos: 0, state: "sent" };
    const mine = (await waiting(prefix)).filter((e) => e.state === "waiting" || e.state === "photo");
    if (mine.length === 0) {
      return result;
    }
    const now = await session(prefix);
    if (now.state !== "open") {
      result.state = now.state;
      return result;
    }
    const own = mine.filter((e) => e.account === now.account);
    if (own.length < mine.length) {
      result.state = "other-person";
    }
    const entries = own.filter((e) => e.state === "waiting");
    for (let i = 0; i < entries.length; i += 200) {
      if (!(await sendPart(prefix, now, entries.slice(i, i + 200), result))) {
        return result;
      }
    }
    await sendPhotos(prefix, now, result);
    return result;
  };

  const sendNow = async (prefix) => {
    const result = await sendAll(prefix);
    if (result.sent.length + result.kept.length + result.photos > 0) {
      await addNews({ prefix, kept: result.kept.map((k) => k.reason) });
    }
    return result;
  };

  // Sends what waits, oldest first. Says what became of it: {sent, kept, refused, state}. Page and service worker take
  // turns: two at once would send the same entries twice, which the server bears but the field need not.
  const send = (prefix) => (navigator.locks ? navigator.locks.request("rootling-outbox", () => sendNow(prefix)) : sendNow(prefix));

  return { ask, takeNews, put, remove, all, waiting, session, send, fact, plain, forgetPages };
})();
