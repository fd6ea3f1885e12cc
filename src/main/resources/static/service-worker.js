// Keeps my day, its tasks and their looks for places without signal, and sends the outbox when signal comes back.
"use strict";
importScripts("/js/outbox.js", "/js/walks.js");

const PAGES = "rootling-pages";
const PARTS = "rootling-parts";

self.addEventListener("install", (event) => {
  event.waitUntil(caches.open(PAGES).then((cache) => cache.add("/offline")).then(() => self.skipWaiting()));
});

self.addEventListener("activate", (event) => {
  event.waitUntil(self.clients.claim());
});

const isPart = (path) => /^\/(css|js|img)\//.test(path) || path === "/manifest.webmanifest";
const isKept = (path) => /^\/v\/[^/]+\/(my-day(\/[0-9a-f-]{36})?|rows\/[0-9a-f-]{36}(\/shoots)?)$/.test(path);
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
    const kept = await cache.match(request);
    if (kept) {
      return kept;
    }
    throw offline;
  }
};

const page = async (request, url) => {
  const path = url.pathname;
  const cache = await caches.open(PAGES);
  try {
    const answer = await fetch(request);
    if (isKept(path) && answer.ok && !answer.redirected) {
      await cache.put(keyOf(url), answer.clone());
    }
    return answer;
  } catch (offline) {
    return (await cache.match(keyOf(url))) || (await cache.match("/offline")) || Response.error();
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
    event.waitUntil(Outbox.send(event.tag.slice("outbox ".length)).then((result) => {
      if (result.state === "offline") {
        throw new Error("no signal yet");
      }
    }));
  }
});
