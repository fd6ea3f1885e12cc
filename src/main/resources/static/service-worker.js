// Keeps my day, its tasks and their looks for places without signal, and sends the outbox when signal comes back.
"use strict";
importScripts("/js/outbox.js");

const PAGES = "rootling-pages";
const PARTS = "rootling-parts";

self.addEventListener("install", (event) => {
  event.waitUntil(caches.open(PAGES).then((cache) => cache.add("/offline")).then(() => self.skipWaiting()));
});

self.addEventListener("activate", (event) => {
  event.waitUntil(self.clients.claim());
});

const isPart = (path) => /^\/(css|js|img)\//.test(path) || path === "/manifest.webmanifest";
const isKept = (path) => /^\/v\/[^/]+\/my-day(\/[0-9a-f-]{36})?$/.test(path);

self.addEventListener("fetch", (event) => {
  const url = new URL(event.request.url);
  if (event.request.method !== "GET" || url.origin !== self.location.origin) {
    return;
  }
  if (isPart(url.pathname)) {
    event.respondWith(part(event.request));
  } else if (event.request.mode === "navigate") {
    event.respondWith(page(event.request, url.pathname));
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

const page = async (request, path) => {
  const cache = await caches.open(PAGES);
  try {
    const answer = await fetch(request);
    if (isKept(path) && answer.ok && !answer.redirected) {
      await cache.put(path, answer.clone());
    }
    return answer;
  } catch (offline) {
    return (await cache.match(path)) || (await cache.match("/offline")) || Response.error();
  }
};

self.addEventListener("sync", (event) => {
  if (event.tag.startsWith("outbox ")) {
    event.waitUntil(Outbox.send(event.tag.slice("outbox ".length)).then((result) => {
      if (result.state === "offline") {
        throw new Error("no signal yet");
      }
    }));
  }
});
