// @ts-check
import { lacksUnit, parse, writeTo } from './numbers.js';
import { convertText, unitsOf } from './units.js';

/**
 * A text box for a number and the unit it stands in. What the reader typed, with the unit it was typed in, is what is kept and
 * asked; after a switch of units the box shows it converted, and switching back shows the very text again.
 * @param {HTMLInputElement} input
 * @param {HTMLSelectElement | null} select the switch of units; a grid's stands in the head of its column
 * @param {string} fixed the unit where there is no choice
 */
export function boxWithUnit(input, select, fixed) {
  const units = select ? unitsOf(select) : [];
  const bookUnit = select ? ([...select.options].find((option) => option.defaultSelected) ?? select.options[0]).value : fixed;
  const unitNow = () => (select ? select.value : fixed);
  let said = { text: input.value, unit: bookUnit };

  input.addEventListener('input', () => {
    said = { text: input.value, unit: unitNow() };
  });

  /** @param {string} symbol */
  const unitCalled = (symbol) => units.find((unit) => unit.symbol === symbol);

  function show() {
    const from = unitCalled(said.unit);
    const to = unitCalled(unitNow());
    input.value = from && to ? convertText(said.text, from, to) : said.text;
  }

  /** @param {string} text @param {string} unit */
  const joined = (text, unit) => (unit && lacksUnit(text) ? `${text.trim()} ${unit}` : text.trim());

  /** @param {string} value @returns {{text: string, unit: string}} */
  function taken(value) {
    const offered = select ? units.map((unit) => unit.symbol) : [fixed];
    const unit = offered.filter((symbol) => symbol && value.endsWith(` ${symbol}`)).sort((a, b) => b.length - a.length)[0];
    return unit === undefined ? { text: value, unit: unitNow() } : { text: value.slice(0, -unit.length).trim(), unit };
  }

  return {
    /** @returns {string} number and unit as typed */
    read: () => joined(said.text, said.unit),
    book: () => joined(input.defaultValue, bookUnit),
    show,

    /** @returns {number | undefined} the value in SI, where there is a number in a unit that this box offers */
    si() {
      const unit = unitCalled(said.unit);
      const value = parse(said.text);
      return unit && value !== undefined ? value * unit.factor + unit.offset : undefined;
    },

    /** Write a value in the unit that is shown, as finely as the step asks; both are in SI. @param {number} value @param {number} step */
    put(value, step) {
      const unit = unitCalled(unitNow());
      if (!unit) return;
      said = { text: writeTo((value - unit.offset) / unit.factor, step / unit.factor, said.text), unit: unit.symbol };
      show();
    },

    /** @param {string} value @returns {boolean} whether it is empty or a number with a unit that this box offers */
    fits(value) {
      const { text } = taken(value);
      return text === '' || parse(text) !== undefined;
    },

    /** @param {string} value as `read` returned it */
    write(value) {
      said = taken(value);
      show();
    },
  };
}
