// @ts-check
import { parse } from './numbers.js';

const SVG = 'http://www.w3.org/2000/svg';

/**
 * Let a chart be read: a slider under it (keys, touch) and the pointer on it move a line, and an output says the numbers there,
 * taken from the chart's own table. Called again after a redraw, it keeps the reading.
 * @param {HTMLElement} figure
 */
export function mountReadout(figure) {
  const svg = /** @type {SVGSVGElement | null} */ (figure.querySelector('svg.chart'));
  const table = figure.querySelector('table');
  if (!svg || !table) return;
  const data = dataOf(table);
  if (data.rows.length < 2) return;
  const bar = /** @type {HTMLElement} */ (figure.querySelector('.reading') ?? makeBar(figure));
  const slider = /** @type {HTMLInputElement} */ (bar.querySelector('input'));
  slider.max = String(data.rows.length - 1);
  slider.setAttribute('aria-label', `Read the chart along ${data.head[0]}`);
  if (!figure.dataset.readable) listen(figure, slider);
  figure.dataset.readable = 'yes';
  if (figure.dataset.reading) show(figure);
}

/** @param {HTMLTableElement} table */
function dataOf(table) {
  const head = [...(table.tHead?.rows[0].cells ?? [])].map((cell) => cell.textContent ?? '');
  const rows = [...table.tBodies[0].rows].map((row) => [...row.cells].map((cell) => cell.textContent ?? ''));
  return { head, rows };
}

/** @param {HTMLElement} figure */
function makeBar(figure) {
  const bar = document.createElement('div');
  bar.className = 'reading';
  const slider = document.createElement('input');
  slider.type = 'range';
  slider.min = '0';
  slider.step = '1';
  slider.value = '0';
  const said = document.createElement('output');
  said.textContent = 'Slide, or touch the chart, to read it.';
  bar.append(slider, said);
  figure.querySelector('.plot')?.after(bar);
  return bar;
}

/** @param {HTMLElement} figure @param {HTMLInputElement} slider */
function listen(figure, slider) {
  const plot = /** @type {HTMLElement} */ (figure.querySelector('.plot'));
  const start = () => {
    figure.dataset.reading = 'yes';
    show(figure);
  };
  slider.addEventListener('input', start);
  slider.addEventListener('focus', start);
  const point = (/** @type {PointerEvent} */ event) => {
    const row = rowAt(figure, event.clientX, event.clientY);
    if (row === undefined) return;
    slider.value = String(row);
    start();
  };
  plot.addEventListener('pointermove', point);
  plot.addEventListener('pointerdown', point);
}

/** @param {SVGSVGElement} svg @returns {number[]} low and high in units, then in the drawing */
const scaleOf = (svg) => (svg.dataset.x ?? '').split(',').map(Number);

/** @param {HTMLElement} figure @param {number} clientX @param {number} clientY @returns {number | undefined} the row nearest to a place on the screen */
function rowAt(figure, clientX, clientY) {
  const svg = /** @type {SVGSVGElement} */ (figure.querySelector('svg.chart'));
  const matrix = svg.getScreenCTM();
  if (!matrix) return undefined;
  const [low, high, start, end] = scaleOf(svg);
  const { x } = new DOMPoint(clientX, clientY).matrixTransform(matrix.inverse());
  const value = low + ((x - start) / (end - start)) * (high - low);
  const places = dataOf(/** @type {HTMLTableElement} */ (figure.querySelector('table'))).rows.map((row) => parse(row[0]) ?? NaN);
  return nearest(places, value);
}

/** @param {number[]} places @param {number} value @returns {number} the index of the nearest one */
export function nearest(places, value) {
  let best = 0;
  places.forEach((place, n) => {
    if (Math.abs(place - value) < Math.abs(places[best] - value) || Number.isNaN(places[best])) best = n;
  });
  return best;
}

/** @param {string[]} head @param {string[]} row @returns {string} the numbers of a row in words */
export function inWords(head, row) {
  const parts = head.slice(1).map((name, n) => (row[n + 1] ? `${name}: ${row[n + 1]}` : ''));
  return `${head[0]} ${row[0]} – ${parts.filter(Boolean).join(' · ')}`;
}

/** @param {HTMLElement} figure */
function show(figure) {
  const slider = /** @type {HTMLInputElement} */ (figure.querySelector('.reading input'));
  const said = /** @type {HTMLOutputElement} */ (figure.querySelector('.reading output'));
  const svg = /** @type {SVGSVGElement} */ (figure.querySelector('svg.chart'));
  const { head, rows } = dataOf(/** @type {HTMLTableElement} */ (figure.querySelector('table')));
  const row = rows[Number(slider.value)];
  const words = inWords(head, row);
  said.textContent = words;
  slider.setAttribute('aria-valuetext', words);
  const [low, high, start, end] = scaleOf(svg);
  const x = start + (((parse(row[0]) ?? low) - low) / (high - low)) * (end - start);
  const [, , bottom, top] = (svg.dataset.y ?? '').split(',').map(Number);
  const line = svg.querySelector('.cursor') ?? svg.appendChild(document.createElementNS(SVG, 'line'));
  line.setAttribute('class', 'cursor');
  for (const [name, value] of Object.entries({ x1: x, x2: x, y1: bottom, y2: top })) line.setAttribute(name, value.toFixed(1));
}
