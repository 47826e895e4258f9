import { isThePage, nameInScope } from './offline-names.js';

declare const self: ServiceWorkerGlobalScope;

/** Filled in when the page is built: what it is made of, and a mark of all of it. */
declare const OFFLINE_FILES: readonly string[];
declare const OFFLINE_MARK: string;

/*
 * Keeps one whole build of the page and answers with it, so that the workbench opens without a network and nothing is asked of
 * one after that. A newer build is fetched beside and takes over on the next load, when no other tab still shows this one; the
 * two are never mixed.
 */
const PREFIX = 'keelson build ';
const CACHE = PREFIX + OFFLINE_MARK;
const TAKE_OVER = 'take over';
/** Names the icon, or the browser would ask for one. */
const ONCE_MORE = '<!doctype html><title>Keelson</title><link rel="icon" href="./icon.svg">';

self.addEventListener('install', (event) => {
  event.waitUntil(keepBuild());
});
self.addEventListener('activate', (event) => {
  event.waitUntil(dropOthers().then(() => self.clients.claim()));
});
self.addEventListener('message', ({ data }) => {
  if (data === TAKE_OVER) void self.skipWaiting();
});
self.addEventListener('fetch', (event) => {
  const { request } = event;
  if (request.method !== 'GET' || !request.url.startsWith(self.registration.scope)) return;
  event.respondWith(request.mode === 'navigate' ? answerLoad(request) : answerFile(request));
});

async function keepBuild(): Promise<void> {
  const cache = await caches.open(CACHE);
  await cache.addAll(OFFLINE_FILES.map((file) => new Request(file, { cache: 'no-cache' })));
}

async function dropOthers(): Promise<void> {
  for (const name of await caches.keys()) {
    if (name.startsWith(PREFIX) && name !== CACHE) await caches.delete(name);
  }
}

async function answerLoad(request: Request): Promise<Response> {
  const { waiting, scope } = self.registration;
  if (waiting !== null && (await self.clients.matchAll({ type: 'window' })).length < 2) {
    waiting.postMessage(TAKE_OVER);
    // the same address once more, answered by the newer build
    return new Response(ONCE_MORE, { headers: { refresh: '0', 'content-type': 'text/html' } });
  }
  return isThePage(request.url, scope) ? answerFile(new Request(`${scope}index.html`)) : fetch(request);
}

async function answerFile(request: Request): Promise<Response> {
  const name = nameInScope(request.url, self.registration.scope);
  const kept = OFFLINE_FILES.includes(name) ? await (await caches.open(CACHE)).match(new Request(name)) : undefined;
  return kept ?? fetch(request);
}
