/*
 * Keeps the app's shell for use without the network; entries and answers of the shop never pass
 * through here. The server puts three lines before this text: BUILD, the id of this build, SHELL,
 * the paths of its assets, and LATER, of those that nobody needs to begin.
 */

const worker = /** @type {ServiceWorkerGlobalScope} */ (/** @type {unknown} */ (self));
const PREFIX = 'axlewright ';
const CACHE = PREFIX + BUILD;
const PAGE = '/app';

worker.addEventListener('install', (event) => event.waitUntil(fetchShell()));
worker.addEventListener(
  'activate',
  (event) => event.waitUntil(Promise.all([dropOldShells(), worker.clients.claim()])),
);
worker.addEventListener('fetch', (event) => {
  const answer = answerFor(event.request);
  if (answer) event.respondWith(answer);
});
worker.addEventListener('message', (event) => {
  if (event.data === 'apply') worker.skipWaiting();
  if (event.data === 'later') event.waitUntil(fetchLater());
});

/** Caches the whole shell, or nothing. */
async function fetchShell() {
  const paths = [...new Set([...SHELL, PAGE])];
  const answers = await Promise.all(paths.map(fetchOwn));
  try {
    const cache = await caches.open(CACHE);
    await Promise.all(paths.map((path, index) => cache.put(path, answers[index])));
  } catch (error) {
    await caches.delete(CACHE);
    throw error;
  }
}

/** Caches what is left, as far as the shop can be reached; the next start goes on with it. */
async function fetchLater() {
  const cache = await caches.open(CACHE);
  for (const path of LATER) {
    if (await cache.match(path)) continue;
    const answer = await fetchOwn(path).catch(() => null);
    if (answer) await cache.put(path, answer);
  }
}

/**
 * A file of exactly this build; a sign-in page, a redirect or another build must never become the
 * app.
 */
async function fetchOwn(path) {
  const answer = await fetch(path, { cache: 'no-cache', credentials: 'omit', redirect: 'error' });
  const own = answer.status === 200 && answer.type === 'basic' &&
    answer.headers.get('X-Axlewright-Build') === BUILD;
  if (!own) throw new Error(`${path} is not of build ${BUILD}.`);
  return answer;
}

/** Keeps the build before this one, as pages opened under it may still be in use. */
async function dropOldShells() {
  const others = (await caches.keys()).filter((name) => name.startsWith(PREFIX) && name !== CACHE);
  await Promise.all(others.slice(0, -1).map((name) => caches.delete(name)));
}

function answerFor(request) {
  const { origin, pathname } = new URL(request.url);
  if (request.method !== 'GET' || origin !== worker.location.origin) return null;
  if (request.mode === 'navigate' && (pathname === PAGE || pathname.startsWith('/t/'))) {
    return page(request);
  }
  return pathname.startsWith('/shell/') ? asset(request) : null;
}

async function page(request) {
  const cache = await caches.open(CACHE);
  return await cache.match(PAGE) ?? fetch(request);
}

async function asset(request) {
  return await caches.match(request) ?? fetch(request);
}
