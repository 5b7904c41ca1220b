// @ts-check
/**
 * Put an answer of Python in the place of the one that stands in the page.
 * @typedef {{name: string, text: string, unit: string, value: unknown, detail: boolean}} Output
 * @typedef {{text: string, level: 'note' | 'caution', about: string}} Remark
 * @typedef {import('./figures.js').Drawn} Drawn
 * @typedef {{outputs: Output[], remarks: Remark[], working: Record<string, string>, figures: Drawn[]}} Answer
 * @typedef {{input: string, rule: string, value: string, hint: string, sentence: string}} Refusal
 */
import { showDrawings, showFigures } from './figures.js';

/** @param {HTMLElement} section @param {Answer} answer */
export function showAnswer(section, answer) {
  showOutputs(section, answer.outputs);
  showLists(section, answer.outputs);
  showRemarks(section, answer.remarks);
  for (const number of section.querySelectorAll('[data-value]')) {
    number.textContent = numberText(answer.working[/** @type {HTMLElement} */ (number).dataset.value ?? ''] ?? '–');
  }
  const figures = section.querySelector('.figures');
  if (figures) showFigures(/** @type {HTMLElement} */ (figures), answer.figures);
}

/**
 * Show the numbers and drawings of an answer while a point is on its way. Words wait: they would push the drawing about.
 * @param {HTMLElement} section @param {Answer} answer @param {boolean} withoutCharts
 */
export function showOnTheWay(section, answer, withoutCharts) {
  showOutputs(section, answer.outputs);
  const figures = section.querySelector('.figures');
  if (figures) (withoutCharts ? showDrawings : showFigures)(/** @type {HTMLElement} */ (figures), answer.figures);
}

/** @param {HTMLElement} section @param {Output[]} outputs */
function showOutputs(section, outputs) {
  for (const output of outputs) {
    for (const place of section.querySelectorAll(`[data-output="${output.name}"]`)) showOutput(place, output);
  }
}

/** Take the answers away: these inputs have none. @param {HTMLElement} section */
export function showNothing(section) {
  showNoNumbers(section);
  section.querySelector('.series tbody')?.replaceChildren();
  showRemarks(section, []);
}

/** @param {HTMLElement} section */
export function showNoNumbers(section) {
  for (const place of section.querySelectorAll('[data-output]')) {
    const value = place.querySelector('.value');
    if (value) value.textContent = '–';
  }
}

/** @param {string} text @returns {string} as it stands inside an equation */
export function numberText(text) {
  return text.startsWith('−') || text.includes('×') ? `(${text})` : text;
}

/** @param {Element} place @param {Output} output */
function showOutput(place, output) {
  const value = place.querySelector('.value');
  if (value) value.textContent = output.text;
  const unit = /** @type {HTMLElement | null} */ (place.querySelector('.unit'));
  if (!unit) return;
  unit.hidden = output.unit === '';
  if (!(unit instanceof HTMLSelectElement)) unit.textContent = output.unit;
  else if (output.unit !== '') unit.value = output.unit;
}

/** Results that are lists stand in one table, a column each. @param {HTMLElement} section @param {Output[]} outputs */
function showLists(section, outputs) {
  const table = /** @type {HTMLTableElement | null} */ (section.querySelector('.series table'));
  if (!table) return;
  const lists = [...table.querySelectorAll('th')].map((head) => {
    const output = outputs.find(({ name }) => name === head.dataset.list);
    const unit = head.querySelector('.unit');
    if (unit) unit.textContent = output?.unit ?? '';
    return Array.isArray(output?.value) && output.value.length ? output.text.split('; ') : [];
  });
  const rows = Array.from({ length: Math.max(...lists.map((list) => list.length)) }, (_, n) => {
    const tr = document.createElement('tr');
    for (const list of lists) tr.insertCell().textContent = list[n] ?? '';
    return tr;
  });
  table.tBodies[0].replaceChildren(...rows);
}

/** @param {HTMLElement} section @param {Remark[]} remarks */
function showRemarks(section, remarks) {
  const list = /** @type {HTMLElement | null} */ (section.querySelector('.remarks'));
  if (!list) return;
  list.hidden = remarks.length === 0;
  list.replaceChildren(...remarks.map(line));
}

/** @param {Remark} remark */
function line(remark) {
  const item = document.createElement('li');
  item.className = `remark ${remark.level === 'caution' ? 'caution' : 'note'}`;
  if (remark.level === 'caution') {
    const word = document.createElement('b');
    word.textContent = 'Caution';
    item.append(word, ' ');
  }
  item.append(remark.text);
  return item;
}
