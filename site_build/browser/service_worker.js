// @ts-check
// Keeps the whole site on the device. One cache per version of the site: a new version is filled whole, file by file
// against its hash, before it is used; what did not change is copied from the old cache. The build writes VERSION, FILES
// ({path: hash}) and HEADERS (what every answer carries, whatever the host sends) above these lines.

const worker = /** @type {ServiceWorkerGlobalScope} */ (/** @type {unknown} */ (self));
const PREFIX = 'handbook-';
const CACHE = PREFIX + VERSION;
const LANES = 4;
const TEXT = /^text\/(html|css)|json|svg/; // not scripts: the browser keeps those ready compiled, by the saved bytes
const top = new URL(worker.registration.scope);

/** @param {string} file */
const address = (file) => new URL(file, top).href;

/** @param {ArrayBuffer} body */
async function hashOf(body) {
  const sum = new Uint8Array(await crypto.subtle.digest('SHA-256', body));
  return [...sum.subarray(0, 8)].map((byte) => byte.toString(16).padStart(2, '0')).join('');
}

/** Fetch a file; the body is undefined when it is not what this version is made of.
 * @param {string} file @param {RequestCache} cache */
async function download(file, cache) {
  const response = await fetch(address(file), { cache, credentials: 'same-origin' });
  const body = response.ok ? await response.arrayBuffer() : undefined;
  return { response, body: body && (await hashOf(body)) === FILES[file] ? body : undefined };
}

/** The page has just loaded many of the files, so the browser's own copy is asked first and the host only when it is stale.
 * @param {string} file */
async function obtain(file) {
  let got = await download(file, 'default');
  if (!got.body) got = await download(file, 'reload');
  if (!got.body) throw new Error(`not this version of ${file} (status ${got.response.status})`); // half-deployed site
  const type = got.response.headers.get('content-type') ?? '';
  const headers = { ...HEADERS, 'content-type': type, 'x-hash': FILES[file] };
  return TEXT.test(type) && 'CompressionStream' in self ? packed(got.body, headers) : new Response(got.body, { headers });
}

/** Text takes a fifth of the room when it is kept compressed.
 * @param {ArrayBuffer} body @param {Record<string, string>} headers */
async function packed(body, headers) {
  const small = new Blob([body]).stream().pipeThrough(new CompressionStream('gzip'));
  return new Response(await new Response(small).arrayBuffer(), { headers: { ...headers, 'x-packed': 'gzip' } });
}

/** @param {Response} saved */
function unpacked(saved) {
  if (!saved.headers.has('x-packed') || !saved.body) return saved;
  return new Response(saved.body.pipeThrough(new DecompressionStream('gzip')), { headers: saved.headers });
}

/** @returns {Promise<Map<string, Response>>} what earlier versions hold, by hash */
async function savedBefore() {
  const saved = new Map();
  for (const name of await caches.keys()) {
    if (!name.startsWith(PREFIX)) continue;
    const cache = await caches.open(name);
    for (const request of await cache.keys()) {
      const response = await cache.match(request);
      if (response) saved.set(response.headers.get('x-hash'), response);
    }
  }
  return saved;
}

/** @param {number} saved @param {number} total */
async function tell(saved, total) {
  for (const client of await worker.clients.matchAll({ includeUncontrolled: true })) client.postMessage({ saved, total });
}

/** Fill the cache of this version. What can be saved is, even when something fails: a later attempt then has less to do. */
async function fill() {
  const cache = await caches.open(CACHE);
  const before = await savedBefore();
  const files = Object.keys(FILES);
  const total = files.length;
  /** @type {unknown[]} */
  const problems = [];
  let saved = 0;

  /** @param {string} file */
  async function save(file) {
    if (await cache.match(address(file))) return;
    const old = before.get(FILES[file]);
    await cache.put(address(file), old ? old.clone() : await obtain(file));
  }

  async function lane() {
    for (let file = files.shift(); file !== undefined; file = files.shift()) {
      await save(file).catch((problem) => problems.push(problem));
      saved += 1;
      if (saved % 10 === 0 || saved === total) await tell(saved, total);
    }
  }

  await Promise.all(Array.from({ length: LANES }, lane));
  if (problems.length) throw problems[0];
}

async function forgetOthers() {
  const names = await caches.keys();
  await Promise.all(names.filter((name) => name.startsWith(PREFIX) && name !== CACHE).map((name) => caches.delete(name)));
}

/** @param {URL} url @returns {string | undefined} the file of this version that an address means */
function fileOf(url) {
  if (!url.href.startsWith(top.href)) return undefined;
  let file = decodeURIComponent(url.pathname.slice(top.pathname.length));
  if (file === '' || file.endsWith('/')) file += 'index.html';
  return Object.hasOwn(FILES, file) ? file : undefined;
}

/** @param {string} file @param {Request} request */
async function answer(file, request) {
  const cache = await caches.open(CACHE);
  const saved = await cache.match(address(file));
  return saved ? unpacked(saved) : fetch(request);
}

worker.addEventListener('install', (event) => event.waitUntil(fill()));

worker.addEventListener('activate', (event) => event.waitUntil(forgetOthers().then(() => worker.clients.claim())));

// Never by itself: an open page keeps the version it began with until its reader asks for the new one.
worker.addEventListener('message', (event) => {
  if (event.data === 'update-now') worker.skipWaiting();
});

worker.addEventListener('fetch', (event) => {
  const file = event.request.method === 'GET' ? fileOf(new URL(event.request.url)) : undefined;
  if (file) event.respondWith(answer(file, event.request));
});
