// @ts-check
/**
 * The inputs of a calculator as the script sees them: read, write, mark as refused, follow a change of units.
 * @typedef {import('./share.js').Value} Value
 * @typedef {{
 *   name: string,
 *   read: () => Value,
 *   book: () => Value,
 *   fits: (value: Value) => boolean,
 *   write: (value: Value) => void,
 *   follow: (usual: string, symbol: string) => void,
 *   refuse: (sentence: string, row?: number, column?: string) => HTMLElement | null,
 *   clear: () => void,
 *   row?: (name: string) => import('./drag.js').Row | undefined,
 * }} Field
 */
import { mountGrid } from './grid.js';
import { boxWithUnit } from './box.js';

/** @param {HTMLElement} element a `.field` @param {() => void} changed @returns {Field} */
export function mountField(element, changed) {
  const { kind = '' } = element.dataset;
  const refusal = /** @type {HTMLElement} */ (element.querySelector('.refusal'));
  const control = kind === 'table' ? mountGrid(element, changed) : simple(element, kind);
  return {
    name: element.dataset.input ?? '',
    ...control,
    refuse(sentence, row, column) {
      refusal.textContent = refusal.hidden ? sentence : `${refusal.textContent} ${sentence}`;
      refusal.hidden = false;
      const culprit = control.at(row, column);
      culprit?.setAttribute('aria-invalid', 'true');
      describe(culprit, refusal.id, true);
      return culprit;
    },
    clear() {
      if (refusal.hidden) return;
      refusal.hidden = true;
      refusal.textContent = '';
      for (const marked of element.querySelectorAll('[aria-invalid]')) {
        marked.removeAttribute('aria-invalid');
        describe(/** @type {HTMLElement} */ (marked), refusal.id, false);
      }
    },
  };
}

/** @param {HTMLElement | null} element @param {string} id @param {boolean} add */
function describe(element, id, add) {
  const rest = (element?.getAttribute('aria-describedby') ?? '').split(' ').filter((each) => each && each !== id);
  element?.setAttribute('aria-describedby', [...(add ? [id] : []), ...rest].join(' '));
}

/** @param {HTMLElement} element @param {string} kind */
function simple(element, kind) {
  if (kind === 'number' || kind === 'integer') return number(element);
  const select = /** @type {HTMLSelectElement | null} */ (element.querySelector('select'));
  if (kind === 'choice' && select) return choiceOfMany(select);
  if (kind === 'choice') return choice(element);
  const input = /** @type {HTMLInputElement} */ (element.querySelector('input'));
  return kind === 'switch' ? onOff(input) : text(input);
}

const NEVER = () => {};

/** @param {HTMLElement} element */
function number(element) {
  const input = /** @type {HTMLInputElement} */ (element.querySelector('input'));
  const select = /** @type {HTMLSelectElement | null} */ (element.querySelector('select.unit'));
  const fixed = element.querySelector('span.unit')?.textContent ?? '';
  const box = boxWithUnit(input, select, fixed);
  return {
    read: box.read,
    book: box.book,
    fits: /** @param {Value} value */ (value) => typeof value === 'string' && box.fits(value),
    write: /** @param {Value} value */ (value) => box.write(String(value)),
    follow(/** @type {string} */ usual, /** @type {string} */ symbol) {
      if (!select || select.dataset.usual !== usual) return;
      select.value = symbol;
      box.show();
      const option = select.selectedOptions[0];
      const say = (/** @type {string} */ part, /** @type {string} */ words) => {
        const place = element.querySelector(part);
        if (place) place.textContent = words;
      };
      say('.limits', option?.dataset.limits ?? '');
      say('.typical', option?.dataset.typical ? `typical ${option.dataset.typical}` : '');
    },
    at: () => /** @type {HTMLElement} */ (input),
  };
}

/** @param {HTMLSelectElement} select */
function choiceOfMany(select) {
  const known = [...select.options].map((option) => option.value);
  return {
    read: () => select.value,
    book: () => ([...select.options].find((option) => option.defaultSelected) ?? select.options[0]).value,
    fits: (/** @type {Value} */ value) => known.includes(String(value)),
    write: (/** @type {Value} */ value) => void (select.value = String(value)),
    follow: NEVER,
    at: () => /** @type {HTMLElement} */ (select),
  };
}

/** @param {HTMLElement} element */
function choice(element) {
  const radios = [...element.querySelectorAll('input')];
  return {
    read: () => radios.find((radio) => radio.checked)?.value ?? '',
    book: () => radios.find((radio) => radio.defaultChecked)?.value ?? '',
    fits: (/** @type {Value} */ value) => radios.some((radio) => radio.value === value),
    write(/** @type {Value} */ value) {
      for (const radio of radios) radio.checked = radio.value === value;
    },
    follow: NEVER,
    at: () => /** @type {HTMLElement | null} */ (element.querySelector('fieldset')),
  };
}

/** @param {HTMLInputElement} input */
function onOff(input) {
  return {
    read: () => input.checked,
    book: () => input.defaultChecked,
    fits: (/** @type {Value} */ value) => typeof value === 'boolean',
    write: (/** @type {Value} */ value) => void (input.checked = value === true),
    follow: NEVER,
    at: () => /** @type {HTMLElement} */ (input),
  };
}

/** @param {HTMLInputElement} input */
function text(input) {
  return {
    read: () => input.value,
    book: () => input.defaultValue,
    fits: (/** @type {Value} */ value) => typeof value === 'string',
    write: (/** @type {Value} */ value) => void (input.value = String(value)),
    follow: NEVER,
    at: () => /** @type {HTMLElement} */ (input),
  };
}
