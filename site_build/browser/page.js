// @ts-check
/** The entry of every page: finds what has to live on it and connects it to the one Python of the site. */
import { mountCalculator } from './calculator.js';
import { mountCell } from './live.js';
import { followLinks } from './navigate.js';
import { offline } from './offline.js';
import { python, startWhenIdle } from './python.js';
import { mountReadout } from './readout.js';
import { memory } from './remember.js';
import { fromFragment, isShared, LinkProblem } from './share.js';
import { showOffline, showPython } from './status.js';
import { connectUnits } from './units.js';

const TOP = new URL('../../', import.meta.url).href;
const tools = { ask: python.ask, units: connectUnits(memory), memory };

/** @type {import('./calculator.js').Calculator[]} */
let calculators = [];
/** @type {import('./messages.js').State} */
let state = { state: 'asleep' };

function mount() {
  for (const gone of calculators.filter(({ section }) => !section.isConnected)) gone.end();
  calculators = calculators.filter(({ section }) => section.isConnected);
  for (const section of fresh('.calculator')) calculators.push(mountCalculator(section, tools));
  for (const section of fresh('.live-cell')) mountCell(section);
  for (const figure of fresh('figure.drawn')) mountReadout(figure);
  showPython(state, python.retry);
  if (document.querySelector('.calculator')) startWhenIdle();
  if (isShared(location.hash)) void openLink();
}

/** @param {string} selector @returns {HTMLElement[]} */
const fresh = (selector) => [...document.querySelectorAll(`${selector}:not([data-live])`)].map((each) => /** @type {HTMLElement} */ (each));

async function openLink() {
  const { hash } = location;
  history.replaceState(history.state, '', location.pathname + location.search); // the reader's own edits must survive a reload
  try {
    const shared = await fromFragment(hash);
    const calculator =
      calculators.find(({ section, name }) => section.id === shared.id && name === shared.name) ?? calculators.find(({ name }) => name === shared.name);
    if (!calculator) throw new LinkProblem('This link is for a calculator that is not on this page.');
    if (!calculator.take(shared.inputs)) throw new LinkProblem('This link does not fit the calculator on this page: the book’s example stays.');
    for (const [usual, symbol] of Object.entries(shared.units)) takeUnit(usual, symbol);
    calculator.section.scrollIntoView();
    calculator.say('These inputs came with a link.');
  } catch (problem) {
    sayAbove(problem instanceof LinkProblem ? problem.message : 'This link cannot be read.');
  }
}

/** Take a unit of a link only where a form offers it. @param {string} usual @param {string} symbol */
function takeUnit(usual, symbol) {
  const selects = [...document.querySelectorAll('select.unit')].map((each) => /** @type {HTMLSelectElement} */ (each));
  const offered = selects.some((select) => select.dataset.usual === usual && [...select.options].some((option) => option.value === symbol));
  if (offered && (tools.units.of(usual) ?? usual) !== symbol) tools.units.choose(usual, symbol);
}

/** @param {string} text */
function sayAbove(text) {
  const words = document.createElement('p');
  words.className = 'page-notice';
  words.setAttribute('role', 'alert');
  words.textContent = text;
  document.querySelector('.page-notice')?.remove();
  document.querySelector('article')?.prepend(words);
}

python.onState((next) => {
  state = next;
  showPython(state, python.retry);
  if (state.state === 'ready') for (const calculator of calculators) calculator.retry();
});

/** Saving the book waits until Python runs, or until the page is idle where nothing needs Python. */
const quiet = new Promise((resolve) => {
  python.onState((next) => {
    if (next.state === 'ready' || next.state === 'failed') resolve(undefined);
  });
  if (!document.querySelector('.calculator')) addEventListener('load', () => setTimeout(resolve, 1500));
});

mount();
addEventListener('hashchange', () => {
  if (isShared(location.hash)) void openLink();
});
followLinks(TOP, mount);
offline.onState((next) => showOffline(next, offline.update));
void offline.start(quiet);
