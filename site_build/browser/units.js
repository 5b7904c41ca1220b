// @ts-check
import { parse, write } from './numbers.js';

/** @typedef {{symbol: string, factor: number, offset: number}} Unit  SI = value * factor + offset */

const KEY = 'units';

/**
 * The reader's choice of units: for each usual unit the one to show instead. Every form hears of a change.
 * @param {import('./remember.js').Memory} memory
 */
export function connectUnits(memory) {
  /** @type {Map<string, string>} */
  const chosen = new Map(entriesOf(memory.load(KEY)));
  /** @type {Set<(usual: string) => void>} */
  const watchers = new Set();

  return {
    /** @param {string} usual @returns {string | undefined} the unit chosen instead */
    of: (usual) => chosen.get(usual),

    /** @returns {Record<string, string>} as a question to Python carries it */
    all: () => Object.fromEntries(chosen),

    /** @param {string} usual @param {string} symbol */
    choose(usual, symbol) {
      chosen.set(usual, symbol);
      memory.save(KEY, Object.fromEntries(chosen));
      for (const watcher of watchers) watcher(usual);
    },

    /** @param {(usual: string) => void} watcher @returns {() => void} */
    onChange(watcher) {
      watchers.add(watcher);
      return () => watchers.delete(watcher);
    },
  };
}

/** @typedef {ReturnType<typeof connectUnits>} Units */

/** @param {unknown} saved @returns {[string, string][]} */
function entriesOf(saved) {
  if (typeof saved !== 'object' || saved === null) return [];
  return Object.entries(saved).filter(([, symbol]) => typeof symbol === 'string' && symbol.length < 20);
}

/**
 * Return a typed number in another unit; a text that is no number stays as it is.
 * @param {string} text @param {Unit} from @param {Unit} to
 */
export function convertText(text, from, to) {
  const value = parse(text);
  if (value === undefined || from.symbol === to.symbol) return text;
  return write((value * from.factor + from.offset - to.offset) / to.factor, text);
}

/** @param {HTMLSelectElement} select @returns {Unit[]} the units a field offers */
export function unitsOf(select) {
  return [...select.options].map((option) => ({
    symbol: option.value,
    factor: Number(option.dataset.factor),
    offset: Number(option.dataset.offset),
  }));
}
