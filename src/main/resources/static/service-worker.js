// Keeps my day, its tasks and their looks for places without signal, and sends the outbox when signal comes back.
"use strict";
importScripts("/js/outbox.js", "/js/walks.js");

const PAGES = "rootling-pages";
const PARTS = "rootling-parts";

const LOOKS = ["/css/rootling.css", "/css/work.css", "/js/rootling.js", "/js/outbox.js", "/js/outbox-bar.js", "/js/walks.js", "/js/work.js", "/img/mark.svg", "/manifest.webmanifest"];
// With weak signal a kept page shows after this long rather than never.
const PATIENCE_MS = 5000;

self.addEventListener("install", (event) => {
  event.waitUntil(Promise.all([
    caches.open(PAGES).then((cache) => cache.add("/offline")),
    caches.open(PARTS).then((cache) => cache.addAll(LOOKS)),
  ]).then(() => self.skipWaiting()));
});

self.addEventListener("activate", (event) => {
  event.waitUntil(self.clients.claim());
});

const isPart = (path) => /^\/(css|js|img)\//.test(path) || path === "/manifest.webmanifest";
const isKept = (path) => /^\/v\/[^/]+\/(my-day(\/[0-9a-f-]{36}|\/sheet)?|rows\/[0-9a-f-]{36}(\/shoots)?)$/.test(path);
// The vines of a long row are on several pages; what else stands in an address makes no other page.
const keyOf = (url) => url.pathname + (url.searchParams.has("part") ? "?part=" + url.searchParams.get("part") : "");

self.addEventListener("fetch", (event) => {
  const url = new URL(event.request.url);
  if (event.request.method !== "GET" || url.origin !== self.location.origin) {
    return;
  }
  if (isPart(url.pathname)) {
    event.respondWith(part(event.request));
  } else if (event.request.mode === "navigate") {
    event.respondWith(page(event.request, url));
  }
});

// Looks and scripts: from the network where there is one, so that a new version shows at once.
const part = async (request) => {
  const cache = await caches.open(PARTS);
  try {
    const answer = await fetch(request);
    if (answer.ok) {
      await cache.put(request, answer.clone());
    }
    return answer;
  } catch (offline) {
    const kept = await cache.match(request, { ignoreVary: true });
    if (kept) {
      return kept;
    }
    throw offline;
  }
};

// What is shown in place of all other pages is in the language that the kept ones have come to be in.
const speak = async (cache, language) => {
  const kept = await cache.match("/offline", { ignoreVary: true });
  if (kept && kept.headers.get("Content-Language") !== language) {
    await cache.add("/offline");
  }
};

const page = async (request, url) => {
  const path = url.pathname;
  const cache = await caches.open(PAGES);
  const kept = isKept(path) ? await cache.match(keyOf(url), { ignoreVary: true }) : undefined;
  const fresh = fetch(request).then(async (answer) => {
    if (isKept(path) && answer.ok && !answer.redirected) {
      await cache.put(keyOf(url), answer.clone());
      await speak(cache, answer.headers.get("Content-Language")).catch(() => {});
    }
    return answer;
  });
  try {
    if (!kept) {
      return await fresh;
    }
    const late = new Promise((done) => { setTimeout(() => done(kept), PATIENCE_MS); });
    return await Promise.race([fresh, late]);
  } catch (offline) {
    return kept || (await cache.match("/offline", { ignoreVary: true })) || Response.error();
  } finally {
    fresh.catch(() => {});
  }
};

self.addEventListener("sync", (event) => {
  if (event.tag.startsWith("walks ")) {
    event.waitUntil(Walks.send(event.tag.slice("walks ".length)).then((result) => {
      if (result.state === "offline") {
        throw new Error("no signal yet");
      }
    }));
  }
  if (event.tag.startsWith("outbox ")) {
    event.waitUntil(Outbox.send(event.tag.slice("outbox ".length)).then(async (result) => {
      for (const page of await self.clients.matchAll()) {
        page.postMessage("sent");
      }
      if (result.state === "offline") {
        throw new Error("no signal yet");
      }
    }));
  }
});
