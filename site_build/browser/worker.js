// @ts-check
// Python on a thread of its own: boots in named stages, then answers questions. JSON text in, JSON text out.
import { lock, PACKAGES } from './engine.js';

const folder = new URL('../python/', import.meta.url);

/** @param {import('./messages.js').FromWorker} message */
const say = (message) => postMessage(message);

/** @param {string} name */
async function bytes(name) {
  const response = await fetch(new URL(name, folder));
  if (!response.ok) throw new Error(`${name}: ${response.status} ${response.statusText}`);
  return response.arrayBuffer();
}

/** @returns {Promise<(question: string) => string>} */
async function boot() {
  say({ state: 'starting', stage: 'engine' });
  const calc = bytes('calc.zip');
  calc.catch(() => {}); // reported below, when it is awaited
  const { loadPyodide } = await import(new URL('pyodide.mjs', folder).href);
  say({ state: 'starting', stage: 'python' });
  const python = await loadPyodide({
    indexURL: folder.href,
    stdLibURL: new URL('python_stdlib.zip', folder).href,
    lockFileContents: lock,
  });
  say({ state: 'starting', stage: 'calculators' });
  python.unpackArchive(await calc, 'zip', { extractDir: PACKAGES });
  return python.pyimport('calc.answer').answer;
}

/** @param {unknown} problem */
const told = (problem) => (problem instanceof Error ? problem.message : String(problem));

const booted = boot();
booted.then(
  () => say({ state: 'ready' }),
  (problem) => say({ state: 'failed', reason: told(problem) }),
);

self.addEventListener('message', async (/** @type {MessageEvent<import('./messages.js').Question>} */ { data }) => {
  const { id, question } = data;
  try {
    say({ id, answer: (await booted)(question) });
  } catch (problem) {
    say({ id, error: told(problem) });
    // after such an error Python answers nothing more
    if (problem && Object.hasOwn(problem, 'pyodide_fatal_error')) say({ state: 'failed', reason: told(problem) });
  }
});
