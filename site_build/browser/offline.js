// @ts-check
/**
 * @typedef {{state: 'waiting'}
 *   | {state: 'unsupported', reason: string}
 *   | {state: 'saving', saved: number, total: number}
 *   | {state: 'ready'}
 *   | {state: 'update'}
 *   | {state: 'failed', reason: string}} OfflineState
 *   waiting: nothing decided yet.  ready: the site works without a network.  update: so does a newer one, ask to show it.
 */

const HOUR = 3_600_000;

/**
 * Keep the site on the device and say how far that is.
 * @param {ServiceWorkerContainer | undefined} container
 * @param {{script?: URL, reload?: () => void}} [options]
 */
export function connectOffline(container, options = {}) {
  const { script = new URL('../../sw.js', import.meta.url), reload = () => location.reload() } = options;
  /** @type {OfflineState} */
  let state = { state: 'waiting' };
  /** @type {Set<(state: OfflineState) => void>} */
  const watchers = new Set();
  /** @type {ServiceWorkerRegistration | undefined} */
  let registration;
  let updating = false;
  let lastLook = Date.now();

  /** @param {OfflineState} next */
  function enter(next) {
    state = next;
    for (const watcher of watchers) watcher(next);
  }

  /** @param {ServiceWorkerRegistration} current */
  function follow(current) {
    registration = current;
    if (current.waiting && current.active) return enter({ state: 'update' });
    if (current.installing) return followInstall(current, current.installing);
    if (current.active) enter({ state: 'ready' });
  }

  /** @param {ServiceWorkerRegistration} current @param {ServiceWorker} coming */
  function followInstall(current, coming) {
    const isFirst = !current.active;
    if (isFirst) enter({ state: 'saving', saved: 0, total: 0 });
    coming.addEventListener('statechange', () => {
      if (coming.state === 'installed' && !isFirst) enter({ state: 'update' });
      if (coming.state === 'activated') enter({ state: 'ready' });
      // an update that does not come through leaves the saved version in use, which is no failure to the reader
      if (coming.state === 'redundant' && isFirst) enter({ state: 'failed', reason: 'saving did not finish' });
    });
  }

  function look() {
    if (!registration || document.visibilityState !== 'visible' || Date.now() - lastLook < HOUR) return;
    lastLook = Date.now();
    registration.update().catch(() => {}); // no network: nothing new to see
  }

  return {
    /**
     * Begin. Saving waits for `after`, so that it does not compete with what the page itself is loading.
     * @param {Promise<unknown>} [after]
     */
    async start(after) {
      if (!container) return enter({ state: 'unsupported', reason: 'this browser or address cannot save the site' });
      await after?.catch(() => {});
      container.addEventListener('message', ({ data }) => {
        if (state.state === 'saving' && data?.total) enter({ state: 'saving', saved: data.saved, total: data.total });
      });
      container.addEventListener('controllerchange', () => {
        if (updating) reload();
      });
      try {
        const current = await container.register(script);
        current.addEventListener('updatefound', () => follow(current));
        follow(current);
        document.addEventListener('visibilitychange', look);
      } catch (problem) {
        enter({ state: 'failed', reason: problem instanceof Error ? problem.message : String(problem) });
      }
    },

    /** Show the newer version: the page is loaded again. */
    update() {
      updating = true;
      registration?.waiting?.postMessage('update-now');
    },

    /**
     * Hear the state now and whenever it changes; call what is returned to hear no more.
     * @param {(state: OfflineState) => void} watcher
     */
    onState(watcher) {
      watchers.add(watcher);
      watcher(state);
      return () => watchers.delete(watcher);
    },
  };
}

/** The site's own. */
export const offline = connectOffline(globalThis.navigator?.serviceWorker);

/**
 * Ask the browser not to clear what is saved when space is short. Some browsers show a question, so call this when the
 * reader has just saved something, never on load.
 * @returns {Promise<boolean>} whether it agreed
 */
export async function keepStored() {
  const { storage } = navigator;
  if (!storage?.persist) return false;
  return (await storage.persisted()) || storage.persist();
}
