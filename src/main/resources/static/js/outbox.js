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

  // Who is signed in, a fresh token, and the vineyard's time; null without signal, false when signed out.
  const session = async (prefix) => {
    let answer;
    try {
      answer = await fetch(prefix + "/outbox", { headers: { Accept: "application/json" }, cache: "no-store", redirect: "manual" });
    } catch (offline) {
      return null;
    }
    if (answer.type === "opaqueredirect" || answer.status === 401 || answer.status === 403 || answer.status === 404) {
      return false;
    }
    if (!answer.ok) {
      return null;
    }
    const session = await answer.json();
    await setFact("skew", Date.parse(session.now) - Date.now());
    await setFact("account", session.account);
    return session;
  };

  // Sends what waits, oldest first. Says what became of it: {sent, kept, refused, state}.
  const send = async (prefix) => {
    const result = { sent: [], kept: [], refused: [], state: "sent" };
    const mine = (await waiting(prefix)).filter((e) => e.state === "waiting");
    if (mine.length === 0) {
      return result;
    }
    const now = await session(prefix);
    if (!now) {
      result.state = now === false ? "signed-out" : "offline";
      return result;
    }
    const own = mine.filter((e) => e.account === now.account);
    if (own.length < mine.length) {
      result.state = "other-person";
    }
    for (let i = 0; i < own.length; i += 200) {
      const part = own.slice(i, i + 200);
      let answer;
      try {
        answer = await fetch(prefix + "/outbox", {
          method: "POST",
          headers: { "Content-Type": "application/json", Accept: "application/json", [now.header]: now.token },
          body: JSON.stringify({ entries: part.map(({ id, task, places, but, found, minutes, at, note }) => ({ id, task, places, but, found, minutes, at, note })) }),
          redirect: "manual",
        });
      } catch (offline) {
        result.state = "offline";
        return result;
      }
      if (!answer.ok) {
        result.state = answer.type === "opaqueredirect" || answer.status === 403 ? "signed-out" : "offline";
        return result;
      }
      for (const e of (await answer.json()).entries) {
        const entry = part.find((p) => p.id === e.id);
        if (!entry) {
          continue;
        }
        if (e.result === "refused") {
          await put({ ...entry, state: "refused", reason: e.reason });
          result.refused.push({ entry, reason: e.reason });
        } else {
          await remove(entry.id);
          (e.result === "conflict" ? result.kept : result.sent).push({ entry, reason: e.reason });
        }
      }
    }
    return result;
  };

  return { put, remove, all, waiting, session, send, fact };
})();
