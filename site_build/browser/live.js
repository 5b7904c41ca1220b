// @ts-check
import { connectPython } from './python.js';

/** @typedef {ReturnType<typeof connectPython>} Python */

/** All cells share one Python of their own: a runaway loop is stopped without stopping the calculators. @type {Python | undefined} */
let shared;

/** @returns {Python} */
const own = () => (shared ??= connectPython());

/**
 * Make a cell run.
 * @param {HTMLElement} section @param {() => Python} [python]
 */
export function mountCell(section, python = own) {
  const source = /** @type {HTMLTextAreaElement} */ (section.querySelector('textarea'));
  const printed = /** @type {HTMLOutputElement} */ (section.querySelector('.printed'));
  const state = /** @type {HTMLElement} */ (section.querySelector('.state'));
  const [run, stop, reset] = ['.run', '.stop', '.reset'].map((each) => /** @type {HTMLButtonElement} */ (section.querySelector(each)));
  const bookOutput = printed.textContent ?? '';

  /** @param {boolean} running */
  function mark(running) {
    run.disabled = running;
    stop.disabled = !running;
    state.textContent = running ? 'running' : '';
  }

  /** @param {string} text @param {string} [error] */
  function print(text, error = '') {
    printed.replaceChildren(text);
    if (!error) return;
    const line = document.createElement('span');
    line.className = 'error';
    line.textContent = error;
    printed.append(line);
  }

  async function start() {
    mark(true);
    try {
      const said = JSON.parse(await python().ask(JSON.stringify({ verb: 'run', source: source.value })));
      if (said.refused) print('', said.refused.map((/** @type {{sentence: string}} */ each) => each.sentence).join(' '));
      else print(said.answer.output, said.answer.error);
    } catch (problem) {
      print('', problem instanceof Error ? problem.message : String(problem));
    }
    mark(false);
    fit(source);
  }

  run.addEventListener('click', () => void start());
  stop.addEventListener('click', () => python().stop());
  reset.addEventListener('click', () => {
    source.value = source.defaultValue;
    print(bookOutput);
    fit(source);
  });
  source.addEventListener('input', () => fit(source));
  source.addEventListener('keydown', (event) => {
    if (event.key === 'Enter' && (event.ctrlKey || event.metaKey)) {
      event.preventDefault();
      if (!run.disabled) void start();
    }
  });
  section.dataset.live = 'yes';
}

/** @param {HTMLTextAreaElement} source */
function fit(source) {
  source.rows = Math.max(1, source.value.split('\n').length);
}
