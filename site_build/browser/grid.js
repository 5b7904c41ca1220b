// @ts-check
import { boxWithUnit } from './box.js';
/** @typedef {import('./share.js').Cell} Cell */
/** @typedef {import('./share.js').Value} Value */

/**
 * Return the cells of copied text: columns by tabs (or semicolons, or two and more spaces), rows by lines.
 * @param {string} text
 * @returns {string[][]}
 */
export function cellsOf(text) {
  const lines = text.replace(/\r/g, '').split('\n').filter((line) => line.trim() !== '');
  const separator = [/\t/, /;/, / {2,}/].find((each) => lines.some((line) => each.test(line)));
  return lines.map((line) => (separator ? line.split(separator) : [line]).map((cell) => cell.trim()));
}

/**
 * A table of inputs: rows are added, removed and pasted; the units stand in the head of the columns.
 * @param {HTMLElement} element the `.field` @param {() => void} changed
 */
export function mountGrid(element, changed) {
  const body = /** @type {HTMLTableSectionElement} */ (element.querySelector('tbody'));
  const heads = [...element.querySelectorAll('th[data-column]')].map((head) => /** @type {HTMLElement} */ (head));
  const isOptional = element.dataset.optional !== undefined;
  const pattern = /** @type {HTMLTableRowElement} */ (body.rows[0].cloneNode(true));
  /** @type {{tr: HTMLTableRowElement, cells: ReturnType<typeof mountCell>[]}[]} */
  let rows = [];

  /** @param {HTMLTableRowElement} tr */
  function mountRow(tr) {
    const controls = [...tr.querySelectorAll('td > input, td > select')];
    const cells = controls.map((control, n) => mountCell(/** @type {HTMLInputElement | HTMLSelectElement} */ (control), heads[n]));
    rows.push({ tr, cells });
  }

  /** @param {typeof rows[number]} row whether its reader has filled in nothing yet */
  const isBlank = ({ cells }) => cells.every((cell) => cell.isBlank());

  /** @returns {Value} the rows without blank ones at the end; nothing at all where the whole table may be left out */
  function read() {
    const filled = rows.slice(0, rows.findLastIndex((row) => !isBlank(row)) + 1);
    if (filled.length === 0 && isOptional) return '';
    return (filled.length ? filled : rows.slice(0, 1)).map(({ cells }) => cells.map((cell) => cell.read()));
  }

  function addRow() {
    const tr = /** @type {HTMLTableRowElement} */ (pattern.cloneNode(true));
    body.append(tr);
    mountRow(tr);
    const { cells } = rows[rows.length - 1];
    for (const cell of cells) cell.write('');
    count();
  }

  function count() {
    rows.forEach(({ tr }, n) => {
      const [head] = tr.cells;
      head.textContent = String(n + 1);
      tr.querySelector('.remove-row')?.setAttribute('aria-label', `Remove row ${n + 1}`);
    });
  }

  /** @param {number} at */
  function removeRow(at) {
    if (rows.length === 1) return;
    rows[at].tr.remove();
    rows.splice(at, 1);
    count();
    rows[Math.min(at, rows.length - 1)].cells[0].control.focus();
  }

  /** @param {Value} value */
  function write(value) {
    const wanted = Array.isArray(value) ? value : [];
    while (rows.length > Math.max(1, wanted.length)) rows.pop()?.tr.remove();
    while (rows.length < wanted.length) addRow();
    if (wanted.length === 0) for (const cell of rows[0].cells) cell.write('');
    wanted.forEach((row, n) => row.forEach((cell, column) => rows[n].cells[column]?.write(cell)));
    count();
  }

  /** @param {ClipboardEvent} event */
  function paste(event) {
    const copied = cellsOf(event.clipboardData?.getData('text/plain') ?? '');
    const at = rows.findIndex(({ cells }) => cells.some((cell) => cell.control === event.target));
    if (at < 0 || (copied.length <= 1 && (copied[0]?.length ?? 0) <= 1)) return;
    event.preventDefault();
    const first = rows[at].cells.findIndex((cell) => cell.control === event.target);
    const isHead = copied.length > 1 && !copied[0].some((cell) => /\d/.test(cell));
    (isHead ? copied.slice(1) : copied).forEach((line, n) => {
      if (at + n >= rows.length) addRow();
      line.forEach((cell, column) => rows[at + n].cells[first + column]?.write(cell));
    });
    changed();
  }

  for (const tr of body.rows) mountRow(tr);
  const book = isOptional && rows.every(isBlank) ? '' : rows.map(({ cells }) => cells.map((cell) => cell.book()));
  body.addEventListener('paste', paste);
  element.addEventListener('click', (event) => {
    const button = /** @type {HTMLElement} */ (event.target).closest('button');
    if (button?.matches('.remove-row')) removeRow(rows.findIndex(({ tr }) => tr.contains(button)));
    else if (button?.matches('.add-row')) addRow();
    else return;
    changed();
  });

  return {
    read,
    book: () => /** @type {Value} */ (book),
    /** @param {Value} value */
    fits: (value) =>
      (isOptional && value === '') ||
      (Array.isArray(value) && value.length > 0 && value.every((row) => row.length === heads.length && row.every((cell, n) => rows[0].cells[n].fits(cell)))),
    write,
    /** @param {string} usual @param {string} symbol */
    follow(usual, symbol) {
      for (const head of heads) {
        const select = head.querySelector('select');
        if (select?.dataset.usual === usual) select.value = symbol;
      }
      for (const { cells } of rows) for (const cell of cells) cell.show();
    },
    /** @param {string} name @returns {Record<string, ReturnType<typeof mountCell>> | undefined} the cells, by their column, of the row whose first cell is this name */
    row(name) {
      const found = rows.find(({ cells }) => String(cells[0].read()).trim().toLowerCase().replaceAll(' ', '_') === name);
      return found && Object.fromEntries(heads.map((head, n) => [head.dataset.column ?? '', found.cells[n]]));
    },
    /** @param {number} [row] @param {string} [column] @returns {HTMLElement | null} */
    at(row, column) {
      const n = heads.findIndex((head) => head.dataset.column === column);
      return (row === undefined ? undefined : rows[row - 1]?.cells[n]?.control) ?? element.querySelector('table');
    },
  };
}

/** @param {HTMLInputElement | HTMLSelectElement} control @param {HTMLElement} head */
function mountCell(control, head) {
  if (control instanceof HTMLSelectElement) {
    const known = [...control.options].map((option) => option.value);
    return {
      control,
      read: () => /** @type {Cell} */ (control.value),
      book: () => /** @type {Cell} */ ([...control.options].find((option) => option.defaultSelected)?.value ?? known[0]),
      fits: (/** @type {Cell} */ value) => known.includes(String(value)),
      write: (/** @type {Cell} */ value) => void (control.value = known.includes(String(value)) ? String(value) : known[0]),
      isBlank: () => true, // a choice always has a value
      show: () => {},
    };
  }
  if (control.type === 'checkbox') {
    return {
      control,
      read: () => /** @type {Cell} */ (control.checked),
      book: () => /** @type {Cell} */ (control.defaultChecked),
      fits: (/** @type {Cell} */ value) => typeof value === 'boolean',
      write: (/** @type {Cell} */ value) => void (control.checked = value === true || /^(1|yes|true|x)$/i.test(String(value))),
      isBlank: () => !control.checked,
      show: () => {},
    };
  }
  if (head.dataset.kind === 'text') {
    return {
      control,
      read: () => /** @type {Cell} */ (control.value),
      book: () => /** @type {Cell} */ (control.defaultValue),
      fits: (/** @type {Cell} */ value) => typeof value === 'string',
      write: (/** @type {Cell} */ value) => void (control.value = String(value)),
      isBlank: () => control.value.trim() === '',
      show: () => {},
    };
  }
  const box = boxWithUnit(control, head.querySelector('select'), head.querySelector('span.unit')?.textContent ?? '');
  return {
    control,
    read: () => /** @type {Cell} */ (box.read()),
    book: () => /** @type {Cell} */ (box.book()),
    fits: (/** @type {Cell} */ value) => typeof value === 'string' && box.fits(value),
    write: (/** @type {Cell} */ value) => box.write(String(value)),
    isBlank: () => control.value.trim() === '',
    show: box.show,
    si: box.si,
    put: box.put,
  };
}
