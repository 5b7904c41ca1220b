// @ts-check
import { showAnswer, showNoNumbers, showNothing, showOnTheWay } from './answer.js';
import { mountDrag } from './drag.js';
import { mountField } from './fields.js';
import { newest } from './newest.js';
import { stepped, turned } from './numbers.js';
import { mountReadout } from './readout.js';
import { isValue, LinkProblem, toFragment } from './share.js';
import { holdToRepeat } from './stepper.js';

/** @typedef {import('./share.js').Value} Value */
/** @typedef {{answer?: import('./answer.js').Answer, refused?: import('./answer.js').Refusal[]}} Said */
/** @typedef {{ask: (question: string) => Promise<string>, units: import('./units.js').Units, memory: import('./remember.js').Memory}} Tools */
/** @typedef {{section: HTMLElement, name: string, take: (inputs: Record<string, Value>) => boolean, retry: () => void, say: (text: string) => void, end: () => void}} Calculator */

const QUICK = 30; // milliseconds for an answer that keeps up with a hand
const CELL = /^(\w+)(?:\[(\d+)\](?:\.(\w+))?)?$/;

/**
 * Make the calculator in the page answer. Until its reader does something the answer of the book stays, without a question.
 * @param {HTMLElement} section @param {Tools} tools @returns {Calculator}
 */
export function mountCalculator(section, { ask, units, memory }) {
  const name = section.dataset.calculator ?? '';
  const key = `inputs:${location.pathname}#${section.id}`;
  const notice = /** @type {HTMLElement} */ (section.querySelector('.notice'));
  let tookLong = Infinity; // milliseconds that the latest answer with all its figures took
  const send = newest(async (/** @type {{text: string, isWhole: boolean}} */ { text, isWhole }) => {
    const start = performance.now();
    const said = await ask(text);
    if (isWhole) tookLong = performance.now() - start;
    return said;
  });
  const fields = [...section.querySelectorAll('.field')].map((element) => mountField(/** @type {HTMLElement} */ (element), changed));
  const points = mountDrag(/** @type {HTMLElement} */ (section.querySelector('.figures') ?? section), { row: rowCalled, moving, moved: changed });
  const fieldCalled = new Map(fields.map((field) => [field.name, field]));

  const inputsNow = () => Object.fromEntries(fields.map((field) => [field.name, field.read()]));
  const inputsOfBook = () => Object.fromEntries(fields.map((field) => [field.name, field.book()]));
  const isBook = () => JSON.stringify(inputsNow()) === JSON.stringify(inputsOfBook());

  /** @param {string} point */
  function rowCalled(point) {
    for (const field of fields) {
      const row = field.row?.(point);
      if (row) return row;
    }
  }

  /** @param {'drawings'} [only] the figures that are wanted, if not all: a drag asks many times in a second */
  async function answer(only) {
    if (!points.isHeld()) section.dataset.state = 'waiting';
    const question = JSON.stringify({ name, inputs: inputsNow(), units: units.all(), key: section.id, figures: only });
    try {
      const said = await send({ text: question, isWhole: !only });
      if (said === undefined) return;
      const focused = points.focused();
      if (only || points.isHeld()) showMoving(JSON.parse(said), only === 'drawings');
      else show(JSON.parse(said));
      points.refresh(focused);
    } catch {
      section.dataset.state = 'unanswered'; // why is said beside it, by the state of Python
    }
  }

  /** A point is on its way. Curves come along where they are quick; elsewhere they follow when the point rests. */
  function moving() {
    void answer(tookLong < QUICK ? undefined : 'drawings');
  }

  /** A place where the linkage cannot be keeps the last drawing. @param {Said} said @param {boolean} withoutCharts */
  function showMoving({ answer, refused }, withoutCharts) {
    section.dataset.state = refused ? 'refused' : 'answered';
    if (answer) showOnTheWay(section, answer, withoutCharts);
    if (refused) showNoNumbers(section);
    points.tell(sentences(refused));
  }

  /** @param {Said} said */
  function show(said) {
    for (const field of fields) field.clear();
    section.dataset.state = said.refused ? 'refused' : 'answered';
    if (said.answer) showAnswer(section, said.answer);
    const elsewhere = (said.refused ?? []).filter((refusal) => !refuse(refusal));
    if (said.refused) showNothing(section);
    if (elsewhere.length) say(sentences(elsewhere));
    points.tell(sentences(said.refused));
  }

  /** @param {import('./answer.js').Refusal} refusal @returns {boolean} whether it concerns an input of the form */
  function refuse(refusal) {
    const found = CELL.exec(refusal.input);
    const field = found ? fieldCalled.get(found[1]) : undefined;
    field?.refuse(refusal.sentence, found?.[2] ? Number(found[2]) : undefined, found?.[3]);
    return field !== undefined;
  }

  /** @param {string} text */
  function say(text) {
    notice.textContent = text;
    notice.hidden = text === '';
  }

  function changed() {
    if (isBook()) memory.forget(key);
    else memory.save(key, inputsNow());
    section.toggleAttribute('data-changed', !isBook());
    say('');
    void answer();
  }

  /** @param {unknown} inputs @returns {boolean} whether every one of them fits this form, and so they were taken */
  function take(inputs) {
    if (typeof inputs !== 'object' || inputs === null) return false;
    const given = Object.entries(inputs);
    if (!given.every(([input, value]) => isValue(value) && fieldCalled.get(input)?.fits(value))) return false;
    for (const [input, value] of given) fieldCalled.get(input)?.write(value);
    return true;
  }

  function reset() {
    for (const field of fields) field.write(field.book());
    changed();
  }

  async function copyLink() {
    try {
      const fragment = await toFragment({ name, id: section.id, inputs: inputsNow(), units: units.all() });
      const link = location.href.split('#')[0] + fragment;
      await navigator.clipboard.writeText(link).then(
        () => say('The link is copied. Whoever opens it sees these inputs.'),
        () => offerToCopy(link),
      );
    } catch (problem) {
      say(problem instanceof LinkProblem ? problem.message : 'This browser cannot make a link.');
    }
  }

  /** @param {string} link */
  function offerToCopy(link) {
    const box = document.createElement('input');
    Object.assign(box, { type: 'text', readOnly: true, value: link, className: 'link' });
    box.setAttribute('aria-label', 'Link to these inputs');
    say('Copy this link:');
    notice.append(' ', box);
    box.select();
  }

  /** @param {string} usual */
  function followUnits(usual) {
    const symbol = units.of(usual);
    if (symbol === undefined) return;
    for (const field of fields) field.follow(usual, symbol);
    void answer();
  }

  section.addEventListener('input', (event) => {
    if (isInput(event.target)) changed();
  });
  section.addEventListener('change', (event) => {
    const target = /** @type {HTMLElement} */ (event.target);
    if (target instanceof HTMLSelectElement && target.matches('.unit')) units.choose(target.dataset.usual ?? '', target.value);
  });
  section.addEventListener('keydown', (event) => {
    const steps = { ArrowUp: 1, ArrowDown: -1 }[event.key];
    if (steps && isNumber(event.target)) step(/** @type {HTMLInputElement} */ (event.target), steps * (event.shiftKey ? 10 : 1), event);
  });
  section.addEventListener('click', (event) => {
    const button = /** @type {HTMLElement} */ (event.target).closest('button');
    if (button?.matches('.reset')) reset();
    if (button?.matches('.copy-link')) void copyLink();
    if (button?.matches('.turn')) edit(boxOf(button), turned);
  });
  holdToRepeat(section, '.step', (button, times) => step(boxOf(button), Number(button.dataset.step) * times));
  for (const figure of section.querySelectorAll('figure.drawn')) mountReadout(/** @type {HTMLElement} */ (figure));

  points.refresh();

  offerUnits(section);
  const fromMemory = take(memory.load(key));
  const chosen = Object.entries(units.all()).filter(([usual]) => section.querySelector(`select.unit[data-usual="${CSS.escape(usual)}"]`));
  for (const [usual, symbol] of chosen) for (const field of fields) field.follow(usual, symbol);
  section.toggleAttribute('data-changed', fromMemory && !isBook());
  section.dataset.live = 'yes';
  if ((fromMemory && !isBook()) || chosen.length) void answer();
  const stopFollowing = units.onChange(followUnits);

  return {
    section,
    name,
    take(inputs) {
      const taken = take(inputs);
      if (taken) changed();
      return taken;
    },
    retry() {
      if (section.dataset.state === 'unanswered') void answer();
    },
    say,
    end: stopFollowing,
  };
}

/** @param {import('./answer.js').Refusal[]} [refused] */
const sentences = (refused = []) => refused.map((refusal) => refusal.sentence).join(' ');

/** @param {HTMLInputElement | null} box @param {number} steps @param {Event} [event] */
function step(box, steps, event) {
  event?.preventDefault();
  edit(box, (text) => stepped(text, steps));
}

/** @param {HTMLInputElement | null} box @param {(text: string) => string} change */
function edit(box, change) {
  if (!box) return;
  box.value = change(box.value);
  box.dispatchEvent(new Event('input', { bubbles: true }));
}

/** @param {Element} button @returns {HTMLInputElement | null} */
const boxOf = (button) => button.parentElement?.querySelector('input') ?? null;

/** @param {EventTarget | null} target */
const isInput = (target) => target instanceof Element && !target.matches('.unit, .reading input, .link');

/** @param {EventTarget | null} target */
const isNumber = (target) => target instanceof HTMLInputElement && (target.inputMode === 'decimal' || target.inputMode === 'numeric');

/** Put a switch in the place of each answer's unit that has more than one. @param {HTMLElement} section */
function offerUnits(section) {
  for (const place of section.querySelectorAll('span.unit[data-units]')) {
    const { usual = '', units = '', label = '' } = /** @type {HTMLElement} */ (place).dataset;
    const select = document.createElement('select');
    select.className = 'unit';
    select.dataset.usual = usual;
    select.setAttribute('aria-label', `Unit of ${label}`);
    select.append(...units.split('|').map((symbol) => new Option(symbol, symbol, symbol === place.textContent, symbol === place.textContent)));
    select.hidden = place.textContent === '';
    place.replaceWith(select);
  }
}
