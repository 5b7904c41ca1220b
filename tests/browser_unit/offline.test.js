import assert from 'node:assert/strict';
import { test } from 'node:test';
import { connectOffline } from '../../site_build/browser/offline.js';

globalThis.document ??= Object.assign(new EventTarget(), { visibilityState: 'visible' });

class Worker extends EventTarget {
  heard = [];
  postMessage(message) {
    this.heard.push(message);
  }
  become(state) {
    this.state = state;
    this.dispatchEvent(new Event('statechange'));
  }
}

/** A browser's side of service workers, with the registration it will give. */
function browser(parts = {}) {
  const registration = Object.assign(new EventTarget(), { installing: null, waiting: null, active: null, ...parts });
  const container = Object.assign(new EventTarget(), { register: async () => registration });
  const states = [];
  const reloads = [];
  const offline = connectOffline(container, { script: new URL('http://x/sw.js'), reload: () => reloads.push(1) });
  offline.onState((state) => states.push(state.state));
  const message = (data) => container.dispatchEvent(Object.assign(new Event('message'), { data }));
  return { registration, container, states, reloads, offline, message };
}

test('a first visit saves, tells how far, and is ready', async () => {
  const coming = new Worker();
  const { offline, states, message } = browser({ installing: coming });
  let last;
  offline.onState((state) => (last = state));

  await offline.start();
  message({ saved: 10, total: 40 });
  assert.deepEqual(last, { state: 'saving', saved: 10, total: 40 });
  coming.become('installed');
  coming.become('activated');

  assert.deepEqual(states, ['waiting', 'saving', 'saving', 'ready']);
});

test('a saved site is ready at once', async () => {
  const { offline, states } = browser({ active: new Worker() });

  await offline.start();

  assert.deepEqual(states, ['waiting', 'ready']);
});

test('saving waits for what the page itself loads, even when that fails', async () => {
  const { offline, states } = browser({ active: new Worker() });
  let fail;

  const started = offline.start(new Promise((_, reject) => (fail = reject)));
  assert.deepEqual(states, ['waiting']);
  fail(new Error('no Python'));
  await started;

  assert.deepEqual(states, ['waiting', 'ready']);
});

test('a newer version is offered, not forced; the page reloads only when asked', async () => {
  const newer = new Worker();
  const { offline, states, registration, container, reloads } = browser({ active: new Worker() });

  await offline.start();
  registration.installing = newer;
  registration.dispatchEvent(new Event('updatefound'));
  newer.become('installed');
  assert.deepEqual(states, ['waiting', 'ready', 'update']);
  container.dispatchEvent(new Event('controllerchange'));
  assert.deepEqual(reloads, []);

  registration.waiting = newer;
  offline.update();
  container.dispatchEvent(new Event('controllerchange'));

  assert.deepEqual(newer.heard, ['update-now']);
  assert.deepEqual(reloads, [1]);
});

test('a version that waits since an earlier visit is offered', async () => {
  const { offline, states } = browser({ active: new Worker(), waiting: new Worker() });

  await offline.start();

  assert.deepEqual(states, ['waiting', 'update']);
});

test('a half-deployed update changes nothing for the reader; a failed first saving is told', async () => {
  for (const [active, expected] of [[new Worker(), 'ready'], [null, 'failed']]) {
    const coming = new Worker();
    const { offline, registration, states } = browser({ active });
    await offline.start();
    registration.installing = coming;
    registration.dispatchEvent(new Event('updatefound'));
    coming.become('redundant');

    assert.equal(states.at(-1), expected);
  }
});

test('where nothing can be saved, that is said', async () => {
  const offline = connectOffline(undefined, { script: new URL('http://x/sw.js') });
  const states = [];
  offline.onState((state) => states.push(state.state));

  await offline.start();

  assert.deepEqual(states, ['waiting', 'unsupported']);
});

test('a refused registration is told with its reason', async () => {
  const { offline, container } = browser();
  container.register = async () => {
    throw new Error('sw.js: 404');
  };
  let last;
  offline.onState((state) => (last = state));

  await offline.start();

  assert.deepEqual(last, { state: 'failed', reason: 'sw.js: 404' });
});
