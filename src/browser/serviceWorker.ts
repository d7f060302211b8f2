/**
 * Makes the app open without a network after one visit: every built file is kept when the worker is installed, pages
 * come from there, anything under /api never does. A new version waits until every page of the old one is closed, so
 * that nothing changes under somebody who is counting.
 */
declare const self: ServiceWorkerGlobalScope;
/** Put in by the build: the addresses of all built files, and a hash over their contents. */
declare const BUILT_FILES: readonly string[];
declare const BUILD_HASH: string;

const CACHE = `rowledger-${BUILD_HASH}`;

self.addEventListener('install', (event) => {
  event.waitUntil(
    caches.open(CACHE).then((cache) => cache.addAll(BUILT_FILES.map((path) => new Request(path, { cache: 'reload' })))),
  );
});

self.addEventListener('activate', (event) => {
  const clean = async () => {
    for (const name of await caches.keys()) {
      if (name.startsWith('rowledger-') && name !== CACHE) await caches.delete(name);
    }
    await self.clients.claim();
  };
  event.waitUntil(clean());
});

self.addEventListener('fetch', (event) => {
  const { request } = event;
  const url = new URL(request.url);
  if (request.method !== 'GET' || url.origin !== self.location.origin) return;
  if (/^\/(api|docs|openapi)\b/.test(url.pathname)) return;
  const path = request.mode === 'navigate' ? '/index.html' : url.pathname;
  event.respondWith(
    caches
      .open(CACHE)
      .then((cache) => cache.match(path))
      .then((kept) => kept ?? fetch(request)),
  );
});
