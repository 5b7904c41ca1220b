import assert from 'node:assert/strict';
import { createHash } from 'node:crypto';
import { readFileSync } from 'node:fs';
import { test } from 'node:test';
import { runInNewContext } from 'node:vm';

const TEMPLATE = readFileSync(new URL('../../site_build/browser/service_worker.js', import.meta.url), 'utf8');
const SCOPE = 'http://here.example/book/';
const hash = (text) => createHash('sha256').update(text).digest('hex').slice(0, 16);

/** A device: named caches that outlive the worker. */
function device() {
  const stores = new Map();
  const key = (request) => (typeof request === 'string' ? request : request.url);
  const open = async (name) => {
    if (!stores.has(name)) stores.set(name, new Map());
    const store = stores.get(name);
    return {
      match: async (request) => store.get(key(request))?.clone(),
      put: async (request, response) => void store.set(key(request), response),
      keys: async () => [...store.keys()].map((url) => ({ url })),
    };
  };
  return { stores, caches: { open, keys: async () => [...stores.keys()], delete: async (name) => stores.delete(name) } };
}

/** A worker for `files` on a device, before a host that serves `served`. */
function worker(on, files, served = files, stale = {}, type = 'text/plain') {
  const asked = [];
  const listeners = {};
  const self = {
    CompressionStream,
    registration: { scope: SCOPE },
    clients: { claim: async () => {}, matchAll: async () => [] },
    addEventListener: (name, listener) => (listeners[name] = listener),
    skipWaiting: () => (self.skipped = true),
  };
  const fetch = async (address, options = {}) => {
    const url = typeof address === 'string' ? address : address.url;
    const name = url.slice(SCOPE.length);
    asked.push(`${options.cache ?? 'page'} ${name}`);
    const text = options.cache === 'default' && name in stale ? stale[name] : served[name];
    if (text === undefined) return new Response('', { status: 404 });
    return new Response(text, { headers: { 'content-type': type, etag: 'x' } });
  };
  const listed = Object.fromEntries(Object.entries(files).map(([name, text]) => [name, hash(text)]));
  const head = `const VERSION = ${JSON.stringify(hash(JSON.stringify(listed)))}; const FILES = ${JSON.stringify(listed)};
    const HEADERS = { 'content-security-policy': "default-src 'self'" };`;
  runInNewContext(head + TEMPLATE, { self, caches: on.caches, fetch, crypto, URL, Response, Headers, Uint8Array, Map, Promise, Object, Array, Error, decodeURIComponent, Blob, CompressionStream, DecompressionStream });
  const happen = (name, event = {}) => {
    let waited;
    listeners[name]({ waitUntil: (promise) => (waited = promise), ...event });
    return waited;
  };
  const get = async (path, method = 'GET', origin = '') => {
    let given;
    const request = { method, url: origin + (origin ? path : SCOPE + path) };
    listeners.fetch({ request, respondWith: (promise) => (given = promise) });
    return given === undefined ? undefined : (await given).text();
  };
  return { asked, self, happen, get };
}

const ONE = { 'index.html': 'home 1', 'a.js': 'code', 'part/index.html': 'part' };
const TWO = { ...ONE, 'index.html': 'home 2' };

test('everything is saved once, from the browser’s own copies first', async () => {
  const { asked, happen, get } = worker(device(), ONE);

  await happen('install');
  asked.length = 0;

  assert.equal(await get('a.js'), 'code');
  assert.equal(await get(''), 'home 1');
  assert.equal(await get('part/?x=1#y'), 'part');
  assert.deepEqual(asked, []);
});

test('a stale copy of the browser is fetched afresh', async () => {
  const { asked, happen, get } = worker(device(), ONE, ONE, { 'a.js': 'old code' });

  await happen('install');

  assert.deepEqual(asked.filter((each) => each.endsWith('a.js')), ['default a.js', 'reload a.js']);
  assert.equal(await get('a.js'), 'code');
});

test('an update fetches only what changed and keeps the old version until it is let in', async () => {
  const phone = device();
  const old = worker(phone, ONE);
  await old.happen('install');
  await old.happen('activate');

  const fresh = worker(phone, TWO);
  await fresh.happen('install');
  assert.deepEqual(fresh.asked, ['default index.html']);
  assert.equal(await old.get('index.html'), 'home 1');
  assert.equal(fresh.self.skipped, undefined);

  fresh.happen('message', { data: 'update-now' });
  await fresh.happen('activate');
  assert.equal(fresh.self.skipped, true);
  assert.equal(await fresh.get('index.html'), 'home 2');
  assert.equal(phone.stores.size, 1);
});

test('a half-deployed version is refused with the file’s name and the old one goes on', async () => {
  const phone = device();
  const old = worker(phone, ONE);
  await old.happen('install');

  for (const served of [ONE, { 'a.js': 'code' }]) {
    await assert.rejects(worker(phone, TWO, served).happen('install'), /not this version of index\.html/);
  }
  assert.equal(await old.get('index.html'), 'home 1');
});

test('a refused version that is complete later downloads only what was missing', async () => {
  const phone = device();
  await assert.rejects(worker(phone, ONE, { 'a.js': 'code', 'part/index.html': 'part' }).happen('install'));

  const again = worker(phone, ONE);
  await again.happen('install');

  assert.deepEqual(again.asked, ['default index.html']);
});

test('a saved file carries the policy, also from a host that sends none; what describes the transfer stays behind', async () => {
  const phone = device();
  const { happen } = worker(phone, ONE);
  await happen('install');

  const [store] = phone.stores.values();
  const { headers } = store.get(`${SCOPE}a.js`);
  assert.equal(headers.get('content-security-policy'), "default-src 'self'");
  assert.equal(headers.get('content-type'), 'text/plain');
  assert.equal(headers.get('etag'), null);
});

test('what is not of this site is left to the browser', async () => {
  const { happen, get } = worker(device(), ONE);
  await happen('install');

  assert.equal(await get('unknown.html'), undefined);
  assert.equal(await get('a.js', 'POST'), undefined);
  assert.equal(await get('a.js', 'GET', 'http://elsewhere.example/'), undefined);
  assert.equal(await get('toString'), undefined);
});

test('a long text is kept small and given back whole', async () => {
  const phone = device();
  const text = 'spring and damper, '.repeat(500);
  const { happen, get } = worker(phone, { 'a.html': text }, undefined, {}, 'text/html');
  await happen('install');

  const [store] = phone.stores.values();
  const kept = await store.get(`${SCOPE}a.html`).clone().arrayBuffer();
  assert.ok(kept.byteLength < text.length / 5);
  assert.equal(await get('a.html'), text);
});
