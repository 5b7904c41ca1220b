// @ts-check
import { mountReadout } from './readout.js';
/** @typedef {{title: string, description: string, svg: string, table: {head: string[], rows: string[][]} | null}} Drawn */

/**
 * Redraw the figures of a calculator. A figure that is there keeps its place, its open table and its reading.
 * @param {HTMLElement} container @param {Drawn[]} figures
 */
export function showFigures(container, figures) {
  const places = [...container.querySelectorAll('figure.drawn')];
  for (const extra of places.slice(figures.length)) extra.remove();
  figures.forEach((drawn, n) => {
    const figure = places[n] ?? container.appendChild(empty());
    redraw(/** @type {HTMLElement} */ (figure), drawn);
  });
}

/**
 * Redraw the drawings alone: charts stay as they are until all figures come again.
 * @param {HTMLElement} container @param {Drawn[]} drawings
 */
export function showDrawings(container, drawings) {
  const places = [...container.querySelectorAll('figure.drawn:has(svg.drawing)')];
  drawings.forEach((drawn, n) => {
    if (places[n]) redraw(/** @type {HTMLElement} */ (places[n]), drawn);
  });
}

function empty() {
  const figure = document.createElement('figure');
  figure.className = 'drawn';
  const plot = document.createElement('div');
  plot.className = 'plot';
  figure.append(plot, document.createElement('figcaption'));
  return figure;
}

/** @param {HTMLElement} figure @param {Drawn} drawn */
function redraw(figure, drawn) {
  const plot = /** @type {HTMLElement} */ (figure.querySelector('.plot'));
  plot.innerHTML = drawn.svg; // made by our own code in the worker, which escapes every label
  const caption = /** @type {HTMLElement} */ (figure.querySelector('figcaption'));
  const title = document.createElement('b');
  title.textContent = drawn.title;
  caption.replaceChildren(title, `. ${drawn.description}`);
  const table = figure.querySelector('table');
  if (table && drawn.table) refill(table, drawn.table);
  mountReadout(figure);
}

/** @param {HTMLTableElement} table @param {{head: string[], rows: string[][]}} numbers */
function refill(table, numbers) {
  [...(table.tHead?.rows[0].cells ?? [])].forEach((cell, n) => {
    cell.textContent = numbers.head[n] ?? '';
  });
  const rows = numbers.rows.map((row) => {
    const tr = document.createElement('tr');
    for (const text of row) tr.insertCell().textContent = text;
    return tr;
  });
  table.tBodies[0].replaceChildren(...rows);
}
