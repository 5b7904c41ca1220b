// @ts-check
/** Numbers as people type them: decimal point or comma, spaces between thousands, a minus of any kind. */

const NUMBER = /^[+\-−]?(?:\d+(?:[\s\u202f]\d{3})*(?:[.,]\d*)?|[.,]\d+)(?:e[+\-−]?\d+)?$/i;
const FIGURES = 6;

/** @param {string} text @returns {number | undefined} */
export function parse(text) {
  const trimmed = text.trim();
  if (!NUMBER.test(trimmed)) return undefined;
  return Number(trimmed.replace(/[\s\u202f]/g, '').replace('−', '-').replace(',', '.'));
}

/** @param {number} value @param {string} [like] a text whose decimal sign is kept @returns {string} */
export function write(value, like = '') {
  const rounded = Number(value.toPrecision(FIGURES));
  const places = Math.min(12, Math.max(0, FIGURES - 1 - Math.floor(Math.log10(Math.abs(rounded) || 1))));
  const text = rounded.toFixed(places);
  const trimmed = Number(text) === 0 ? '0' : text.includes('.') ? text.replace(/\.?0+$/, '') : text;
  return like.includes(',') ? trimmed.replace('.', ',') : trimmed;
}

/** @param {number} value @param {number} step @param {string} [like] @returns {string} the number, with no more decimals than the step asks for */
export function writeTo(value, step, like = '') {
  return write(Number(value.toFixed(Math.max(0, Math.ceil(-Math.log10(step) - 1e-9)))), like);
}

/**
 * How far one press of a stepper goes: one in the last digit written, but no less than a thousandth of the value's size.
 * @param {string} text
 * @returns {number}
 */
export function stepOf(text) {
  const value = parse(text) ?? 0;
  const decimals = /[.,](\d+)/.exec(text)?.[1].length ?? 0;
  const written = 10 ** -decimals;
  return value === 0 ? written : Math.max(written, 10 ** (Math.floor(Math.log10(Math.abs(value)) + 1e-9) - 2));
}

/** @param {string} text @param {number} steps @returns {string} the number `steps` further; a text that is no number stays */
export function stepped(text, steps) {
  const value = text.trim() === '' ? 0 : parse(text);
  if (value === undefined) return text;
  return write(value + steps * stepOf(text), text);
}

/** @param {string} text @returns {string} the number with the other sign */
export function turned(text) {
  const value = parse(text);
  return value === undefined ? text : write(-value, text);
}

/** @param {string} text @returns {boolean} whether a unit still has to be put behind it */
export function lacksUnit(text) {
  return /^[\s\d.,/+\-−\u202f]*(?:e[+\-−]?\d+)?\s*$/i.test(text) && text.trim() !== '';
}
