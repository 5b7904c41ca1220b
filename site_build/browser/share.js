// @ts-check
/**
 * A calculator's inputs in a link: JSON, deflated, in base64url, behind `#share=`. Whatever comes back from a link is foreign:
 * it is checked for size and shape here, and its values are only ever put into text boxes.
 * @typedef {string | boolean} Cell
 * @typedef {Cell | Cell[][]} Value
 * @typedef {{name: string, id: string, inputs: Record<string, Value>, units: Record<string, string>}} Shared
 */

const MARK = '#share=';
const VERSION = 1;
const LONGEST_LINK = 8000;
const LONGEST_JSON = 200_000;
const LONGEST_TEXT = 80;
const MOST_INPUTS = 100;
const MOST_ROWS = 2000;

/** A link that is not used; the message is for the reader. */
export class LinkProblem extends Error {}

/** @param {string} hash @returns {boolean} */
export const isShared = (hash) => hash.startsWith(MARK);

/** @param {Shared} shared @returns {Promise<string>} the fragment, with its `#` */
export async function toFragment(shared) {
  const packed = await squeeze(new TextEncoder().encode(JSON.stringify({ v: VERSION, ...shared })), new CompressionStream('deflate-raw'));
  const fragment = MARK + btoa(Array.from(packed, (byte) => String.fromCharCode(byte)).join('')).replaceAll('+', '-').replaceAll('/', '_').replaceAll('=', '');
  if (fragment.length > LONGEST_LINK) throw new LinkProblem('These inputs are too long for a link.');
  return fragment;
}

/** @param {string} hash @returns {Promise<Shared>} rejects with a LinkProblem */
export async function fromFragment(hash) {
  if (hash.length > LONGEST_LINK) throw new LinkProblem('This link is too long to be one of this book’s.');
  return checked(await unpacked(hash.slice(MARK.length)));
}

/** @param {string} text @returns {Promise<unknown>} */
async function unpacked(text) {
  try {
    const bytes = Uint8Array.from(atob(text.replaceAll('-', '+').replaceAll('_', '/')), (letter) => letter.charCodeAt(0));
    const json = await squeeze(bytes, new DecompressionStream('deflate-raw'));
    return JSON.parse(new TextDecoder('utf-8', { fatal: true }).decode(json));
  } catch {
    throw new LinkProblem('This link is damaged: its inputs cannot be read.');
  }
}

/** @param {Uint8Array<ArrayBuffer>} bytes @param {CompressionStream | DecompressionStream} through @returns {Promise<Uint8Array<ArrayBuffer>>} */
async function squeeze(bytes, through) {
  const reader = new Blob([bytes]).stream().pipeThrough(through).getReader();
  /** @type {Uint8Array<ArrayBuffer>[]} */
  const parts = [];
  let size = 0;
  for (let part = await reader.read(); !part.done; part = await reader.read()) {
    size += part.value.length;
    if (size > LONGEST_JSON) {
      await reader.cancel();
      throw new Error('too long'); // a small link may unfold to gigabytes
    }
    parts.push(part.value);
  }
  return new Uint8Array(await new Blob(parts).arrayBuffer());
}

/** @param {unknown} found @returns {Shared} */
function checked(found) {
  if (!isPlain(found) || typeof found.v !== 'number') throw new LinkProblem('This link is damaged: its inputs cannot be read.');
  if (found.v !== VERSION) throw new LinkProblem('This link was made by another edition of this book and cannot be read here.');
  const { name, id, inputs, units } = found;
  if (!isText(name) || !isText(id) || !isPlain(inputs) || !isPlain(units)) throw new LinkProblem('This link is incomplete.');
  if (Object.keys(inputs).length > MOST_INPUTS || Object.keys(units).length > MOST_INPUTS) throw new LinkProblem('This link holds too many inputs.');
  for (const [input, value] of Object.entries(inputs)) {
    if (!isValue(value)) throw new LinkProblem(`This link holds a value for “${input.slice(0, 40)}” that no form of this book makes.`);
  }
  if (!Object.values(units).every(isText)) throw new LinkProblem('This link names units that no form of this book makes.');
  return /** @type {Shared} */ ({ name, id, inputs: { ...inputs }, units: { ...units } });
}

/** @param {unknown} value @returns {value is Record<string, unknown>} */
const isPlain = (value) => typeof value === 'object' && value !== null && !Array.isArray(value);

/** @param {unknown} value @returns {value is string} */
const isText = (value) => typeof value === 'string' && value.length <= LONGEST_TEXT;

/** @param {unknown} value */
const isCell = (value) => isText(value) || typeof value === 'boolean';

/** @param {unknown} value @returns {value is Value} */
export function isValue(value) {
  if (!Array.isArray(value)) return isCell(value);
  return value.length <= MOST_ROWS && value.every((row) => Array.isArray(row) && row.length <= MOST_INPUTS && row.every(isCell));
}
