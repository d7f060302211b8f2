/// <reference lib="webworker" />
/**
 * Makes the app open without a network after one visit: the page's own files are kept when this worker is installed,
 * the large ones (engine, models, picture decoders) right after, each when it is there. Pages come from what is kept;
 * anything under /api never does. A new version waits until every page of the old one is closed, so that nothing
 * changes under somebody who is counting.
 */
const worker = self as unknown as ServiceWorkerGlobalScope;
/** Put in by the build: addresses of all built files, those of the page apart from the large ones, and their hash. */
declare const PAGE_FILES: readonly string[];
declare const LARGE_FILES: readonly string[];
declare const BUILD_HASH: string;

const CACHE = `rowledger-${BUILD_HASH}`;

worker.addEventListener('install', (event) => {
  event.waitUntil(
    caches.open(CACHE).then((cache) => cache.addAll(PAGE_FILES.map((path) => new Request(path, { cache: 'reload' })))),
  );
});

worker.addEventListener('activate', (event) => {
  const clean = async () => {
    for (const name of await caches.keys()) {
      if (name.startsWith('rowledger-') && name !== CACHE) await caches.delete(name);
    }
    await worker.clients.claim();
  };
  event.waitUntil(clean());
});

/** The page asks for the large files once it stands; the answer says whether all of them are kept. */
worker.addEventListener('message', (event) => {
  if (event.data !== 'keep-large-files') return;
  event.waitUntil(keepLargeFiles().then((complete) => event.source?.postMessage({ complete })));
});

async function keepLargeFiles(): Promise<boolean> {
  const cache = await caches.open(CACHE);
  let complete = true;
  for (const path of LARGE_FILES) {
    if ((await cache.match(path)) !== undefined) continue;
    await cache.add(path).catch(() => {
      complete = false;
    });
  }
  return complete;
}

worker.addEventListener('fetch', (event) => {
  const { request } = event;
  const url = new URL(request.url);
  if (request.method !== 'GET' || url.origin !== worker.location.origin) return;
  if (/^\/(api|docs|openapi)\b/.test(url.pathname)) return;
  const path = request.mode === 'navigate' ? '/index.html' : url.pathname;
  event.respondWith(
    caches
      .open(CACHE)
      .then((cache) => cache.match(path))
      .then((kept) => kept ?? fetch(request)),
  );
});

export {};
