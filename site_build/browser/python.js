// @ts-check
/** @typedef {import('./messages.js').State} State */
/** @typedef {import('./messages.js').WorkerLike} WorkerLike */

/** @returns {WorkerLike} */
const newWorker = () => new Worker(new URL('./worker.js', import.meta.url), { type: 'module', name: 'python' });

/**
 * Connect to a Python of one's own. It starts with the first question, or at `start()`; each question gets its own promise.
 * @param {() => WorkerLike} [make]
 */
export function connectPython(make = newWorker) {
  /** @type {WorkerLike | null} */
  let worker = null;
  /** @type {State} */
  let state = { state: 'asleep' };
  let lastId = 0;
  /** @type {Map<number, {resolve: (answer: string) => void, reject: (problem: Error) => void}>} */
  const waiting = new Map();
  /** @type {Set<(state: State) => void>} */
  const watchers = new Set();

  /** @param {State} next */
  function enter(next) {
    state = next;
    if (next.state === 'failed') rejectAll(next.reason);
    for (const watcher of watchers) watcher(next);
  }

  /** @param {string} reason */
  function rejectAll(reason) {
    const left = [...waiting.values()];
    waiting.clear();
    for (const { reject } of left) reject(new Error(reason));
  }

  /** @param {MessageEvent<import('./messages.js').FromWorker>} event */
  function hear({ data }) {
    if ('state' in data) return enter(data);
    const asked = waiting.get(data.id);
    waiting.delete(data.id);
    if ('answer' in data) asked?.resolve(data.answer);
    else asked?.reject(new Error(data.error));
  }

  function start() {
    if (worker) return;
    enter({ state: 'starting', stage: 'engine' });
    worker = make();
    worker.onmessage = hear;
    worker.onerror = (event) => enter({ state: 'failed', reason: event.message || 'the worker did not start' });
  }

  /** End this Python. Open questions are refused; the next question starts a fresh one. */
  function stop() {
    if (worker) {
      worker.onmessage = worker.onerror = null; // a message may already be on its way
      worker.terminate();
    }
    worker = null;
    rejectAll('Python was stopped');
    enter({ state: 'asleep' });
  }

  return {
    start,
    stop,

    /** Try again after a failure. */
    retry() {
      stop();
      start();
    },

    /**
     * Ask, and get the answer; both are JSON text. Rejects when Python cannot start or was stopped.
     * @param {string} question
     * @returns {Promise<string>}
     */
    ask(question) {
      if (state.state === 'failed') return Promise.reject(new Error(state.reason));
      start();
      return new Promise((resolve, reject) => {
        waiting.set(++lastId, { resolve, reject });
        worker?.postMessage({ id: lastId, question });
      });
    },

    /**
     * Hear the state now and whenever it changes; call what is returned to hear no more.
     * @param {(state: State) => void} watcher
     */
    onState(watcher) {
      watchers.add(watcher);
      watcher(state);
      return () => watchers.delete(watcher);
    },
  };
}

/** The one Python that all forms of the site share; it lives as long as the document. */
export const python = connectPython();

/**
 * Start it when the page has been drawn and the browser has nothing better to do.
 * @returns {Promise<void>} settled once it is ready or has failed, when the line is free for other downloads
 */
export function startWhenIdle() {
  if ('requestIdleCallback' in globalThis) requestIdleCallback(python.start, { timeout: 1000 });
  else setTimeout(python.start, 200);
  return new Promise((resolve) => {
    python.onState(({ state }) => {
      if (state === 'ready' || state === 'failed') resolve();
    });
  });
}
