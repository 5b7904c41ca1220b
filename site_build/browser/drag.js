// @ts-check
/**
 * The points of a drawing moved by mouse, finger or keys. The drawing may be replaced at any moment, so listeners, pointer
 * capture and the memory of what is held are all outside it; a point is known by its name in the reader's table.
 * @typedef {{read: () => unknown, write: (value: string) => void, si?: () => number | undefined, put?: (value: number, step: number) => void}} Cell
 * @typedef {Record<string, Cell>} Row  the cells of a row by their column
 * @typedef {{row: (name: string) => Row | undefined, moving: () => void, moved: () => void}} Table
 * @typedef {{name: string, axes: string[]}} Point
 * @typedef {{point: Point, texts: string[]}} Place
 * @typedef {{a: number, b: number, c: number, d: number}} Scale  (across, up) in metres is drawn at (a across + c, b up + d)
 */

const FINEST = 1e-4; // metres: a pointer is no finer than a tape
const KEY_STEP = 1e-3;
const SLOP = 2; // pixels a press may shake without moving the point
const STILL = 250; // milliseconds without movement after which curves may follow
const HINT = 'Drag a point to move it';
const KEYS = ', or choose one with Tab and press the arrow keys: 1 mm each, 10 mm with Shift';

/** @param {string} text @returns {Scale} */
export function scaleOf(text) {
  const [a, b, c, d] = text.split(',').map(Number);
  return { a, b, c, d };
}

/**
 * Return the viewBox that shows a drawing of another scale where the first one stood, so that nothing jumps under the finger.
 * @param {Scale} first @param {number[]} box its viewBox @param {Scale} now
 */
export function heldStill(first, box, now) {
  const [left, top, width, height] = box;
  return [(now.a * (left - first.c)) / first.a + now.c, (now.b * (top - first.d)) / first.b + now.d, (width * now.a) / first.a, (height * now.b) / first.b];
}

/**
 * Return how far a key moves a point, in metres along the drawing's axes; nothing for another key.
 * @param {string} key @param {boolean} far @param {Scale} scale @returns {number[] | undefined}
 */
export function keyed(key, far, scale) {
  const way = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] }[key];
  const step = far ? 10 * KEY_STEP : KEY_STEP;
  return way && [way[0] * Math.sign(scale.a) * step, way[1] * Math.sign(scale.b) * step];
}

/** @param {Point} point @param {string[]} texts @returns {string} */
export const inWords = ({ name, axes }, texts) => `${name.replaceAll('_', ' ')}: ${axes.map((axis, n) => `${axis} ${texts[n]}`).join(', ')}`;

/** @param {HTMLElement} host what holds the figures @param {Table} table */
export function mountDrag(host, table) {
  /** @type {{pointer: number, point: Point, figure: Element, from: number[], at: number[], perPixel: number[], before: string[], hasMoved: boolean} | null} */
  let held = null;
  /** @type {Map<Element, {scale: Scale, box: number[]}>} how each drawing stood when the drag began */
  const stood = new Map();
  /** @type {Place[]} */
  const past = [];
  /** @type {PointerEvent | null} */
  let last = null;
  let frame = 0;
  /** @type {ReturnType<typeof setTimeout> | undefined} */
  let still;
  let isRefused = false;
  let isKeyed = false; // whether the latest move was by keys: a row of presses is one move

  /** @param {Point} point @returns {Cell[] | undefined} */
  function cellsOf({ name, axes }) {
    const row = table.row(name);
    const cells = row ? axes.map((axis) => row[axis]) : [];
    return cells.length && cells.every((cell) => cell?.si && cell.put) ? cells : undefined;
  }

  /** @param {Point} point */
  const textsOf = (point) => (cellsOf(point) ?? []).map((cell) => String(cell.read()));

  /** @param {Point} point @param {number[]} place @returns {boolean} whether the table has changed */
  function put(point, place) {
    const before = textsOf(point).join();
    cellsOf(point)?.forEach((cell, n) => cell.put?.(place[n], FINEST));
    return textsOf(point).join() !== before;
  }

  /** @param {Place} place */
  function putBack({ point, texts }) {
    cellsOf(point)?.forEach((cell, n) => cell.write(texts[n]));
  }

  function drawings() {
    return [...host.querySelectorAll('figure.drawn')].flatMap((figure) => {
      const svg = /** @type {SVGSVGElement | null} */ (figure.querySelector('svg[data-map]'));
      return svg ? [{ figure, svg, scale: scaleOf(svg.dataset.map ?? '') }] : [];
    });
  }

  /** Make the points of freshly drawn figures live. @param {{figure: Element, name: string} | null} [focused] */
  function refresh(focused) {
    for (const { figure, svg, scale } of drawings()) {
      svg.setAttribute('role', 'group'); // a picture would hide its points from who cannot see it
      const first = held && stood.get(figure);
      if (first) {
        const box = heldStill(first.scale, first.box, scale);
        svg.setAttribute('viewBox', box.join(' '));
        svg.style.setProperty('--grow', String(scale.a / first.scale.a));
      }
      for (const handle of handlesIn(svg)) enliven(handle, figure);
      barOf(figure);
    }
    if (focused) find(focused.figure, focused.name)?.focus({ preventScroll: true });
  }

  /** @param {SVGElement} handle @param {Element} figure */
  function enliven(handle, figure) {
    const point = pointOf(handle);
    if (!cellsOf(point)) return;
    const words = { tabindex: '0', role: 'button', 'aria-roledescription': 'draggable point', 'aria-label': inWords(point, textsOf(point)) };
    for (const [name, value] of Object.entries(words)) handle.setAttribute(name, value);
    handle.classList.toggle('held', held?.point.name === point.name && held.figure === figure);
  }

  /** @param {Element} figure */
  function barOf(figure) {
    const bar = figure.querySelector('.grips') ?? makeBar();
    if (!bar.isConnected) figure.querySelector('.plot')?.after(bar);
    /** @type {HTMLElement} */ (bar.querySelector('.put-back')).hidden = past.length === 0 || held !== null;
    return bar;
  }

  /** Say something beside the drawings. @param {string} words @param {boolean} [isRefusal] */
  function say(words, isRefusal = false) {
    isRefused = isRefusal;
    for (const { figure } of drawings()) {
      const said = /** @type {HTMLElement} */ (barOf(figure).querySelector('.said'));
      said.textContent = words;
      said.classList.toggle('refused', isRefusal);
    }
  }

  /** @param {PointerEvent} event */
  function take(event) {
    const handle = nearest(event);
    const figure = handle?.closest('figure');
    const svg = handle?.ownerSVGElement;
    const matrix = svg?.getScreenCTM();
    if (!handle || !figure || !svg || !matrix) return;
    const point = pointOf(handle);
    const at = (cellsOf(point) ?? []).map((cell) => cell.si?.());
    if (at.length === 0 || at.includes(undefined)) return;
    const scale = scaleOf(svg.dataset.map ?? '');
    stood.clear();
    for (const each of drawings()) stood.set(each.figure, { scale: each.scale, box: (each.svg.getAttribute('viewBox') ?? '').split(' ').map(Number) });
    held = {
      pointer: event.pointerId,
      point,
      figure,
      from: [event.clientX, event.clientY],
      at: at.map(Number),
      perPixel: [1 / (matrix.a * scale.a), 1 / (matrix.d * scale.b)],
      before: textsOf(point),
      hasMoved: false,
    };
    event.preventDefault();
    host.setPointerCapture(event.pointerId);
    host.toggleAttribute('data-dragging', true);
    handle.classList.add('held');
    handle.focus({ preventScroll: true });
    say(inWords(point, held.before));
  }

  /** @param {PointerEvent} event */
  function follow(event) {
    if (event.pointerId !== held?.pointer) return;
    last = event;
    frame ||= requestAnimationFrame(flush);
  }

  function flush() {
    frame = 0;
    if (!held || !last) return;
    const way = [last.clientX - held.from[0], last.clientY - held.from[1]];
    if (!held.hasMoved && Math.hypot(...way) < SLOP) return;
    held.hasMoved = true;
    const { at, perPixel, point } = held;
    const place = at.map((value, n) => value + way[n] * perPixel[n]);
    if (!put(point, place)) return;
    table.moving();
    clearTimeout(still);
    still = setTimeout(table.moved, STILL);
  }

  /** @param {boolean} isKept */
  function release(isKept) {
    if (!held) return;
    cancelAnimationFrame(frame);
    clearTimeout(still);
    flush();
    clearTimeout(still);
    const { point, before, hasMoved, figure } = held;
    if (hasMoved && isKept) remember({ point, texts: before }, false);
    if (hasMoved && !isKept) putBack({ point, texts: before });
    host.toggleAttribute('data-dragging', false);
    find(figure, point.name)?.classList.remove('held');
    held = last = null;
    frame = 0;
    say(hasMoved ? inWords(point, textsOf(point)) : '');
    if (hasMoved) table.moved();
  }

  /** @param {Place} place @param {boolean} byKeys */
  function remember(place, byKeys) {
    const goesOn = byKeys && isKeyed && past.at(-1)?.point.name === place.point.name;
    if (!goesOn) past.push(place);
    isKeyed = byKeys;
  }

  /** @param {KeyboardEvent} event */
  function press(event) {
    if (held && event.key === 'Escape') release(false);
    const handle = /** @type {SVGElement | null} */ (/** @type {Element} */ (event.target).closest('.handle'));
    const scale = scaleOf(handle?.ownerSVGElement?.dataset.map ?? '');
    const way = handle && keyed(event.key, event.shiftKey, scale);
    if (!handle || !way || held) return;
    event.preventDefault();
    const point = pointOf(handle);
    const before = textsOf(point);
    const at = (cellsOf(point) ?? []).map((cell) => cell.si?.());
    if (at.length === 0 || at.includes(undefined)) return;
    if (!put(point, at.map((value, n) => Number(value) + way[n]))) return;
    remember({ point, texts: before }, true);
    say(inWords(point, textsOf(point)));
    table.moved();
  }

  function undo() {
    const place = past.pop();
    isKeyed = false;
    if (!place) return;
    putBack(place);
    say(inWords(place.point, textsOf(place.point)));
    table.moved();
  }

  host.addEventListener('pointerdown', (event) => {
    if (!held && event.isPrimary && !event.button) take(event);
  });
  host.addEventListener('pointermove', follow);
  for (const end of /** @type {const} */ (['pointerup', 'pointercancel', 'lostpointercapture'])) {
    host.addEventListener(end, (event) => {
      if (event.pointerId === held?.pointer) release(true);
    });
  }
  host.addEventListener(
    'touchstart',
    (event) => {
      if (event.cancelable && /** @type {Element} */ (event.target).closest('.handle[tabindex]')) event.preventDefault(); // or the page scrolls and the drag ends
    },
    { passive: false },
  );
  host.addEventListener('keydown', press);
  host.addEventListener('click', (event) => {
    if (/** @type {Element} */ (event.target).closest('.put-back')) undo();
  });

  return {
    refresh,
    isHeld: () => held !== null,
    /** Say beside the drawings how the inputs were met. @param {string} refusal a sentence, or nothing where there is an answer */
    tell(refusal) {
      if (refusal) say(refusal, true);
      else if (held) say(inWords(held.point, textsOf(held.point)));
      else if (isRefused) say('');
    },
    /** @returns {{figure: Element, name: string} | null} the point that has the focus */
    focused() {
      const handle = host.contains(document.activeElement) ? document.activeElement?.closest('.handle') : null;
      const figure = handle?.closest('figure');
      return handle && figure ? { figure, name: pointOf(handle).name } : null;
    },
  };
}

/** @param {Element} handle @returns {Point} */
function pointOf(handle) {
  const { handle: name = '', axes = '' } = /** @type {SVGElement} */ (handle).dataset;
  return { name, axes: axes.split(',') };
}

/** @param {Element} svg */
const handlesIn = (svg) => [...svg.querySelectorAll('.handle')].map((each) => /** @type {SVGGElement} */ (each));

/** @param {Element} figure @param {string} name @returns {SVGElement | null} */
const find = (figure, name) => figure.querySelector(`.handle[data-handle="${CSS.escape(name)}"]`);

/** Where several can be taken hold of, the nearest is meant. @param {PointerEvent} event @returns {SVGGElement | undefined} */
function nearest({ target, clientX, clientY }) {
  const svg = /** @type {Element} */ (target).closest('.handle[tabindex]')?.closest('svg');
  const far = (/** @type {Element} */ handle) => {
    const { left, right, top, bottom } = (handle.querySelector('.mark') ?? handle).getBoundingClientRect();
    return Math.hypot((left + right) / 2 - clientX, (top + bottom) / 2 - clientY);
  };
  return svg ? handlesIn(svg).filter((each) => each.hasAttribute('tabindex')).sort((one, other) => far(one) - far(other))[0] : undefined;
}

function makeBar() {
  const bar = document.createElement('div');
  bar.className = 'grips';
  const words = document.createElement('p');
  const said = document.createElement('span');
  said.className = 'said';
  const hint = document.createElement('span');
  hint.className = 'how';
  const keys = document.createElement('span');
  keys.className = 'keys';
  keys.textContent = KEYS;
  hint.append(HINT, keys, '.');
  words.append(said, hint);
  const button = document.createElement('button');
  Object.assign(button, { type: 'button', className: 'quiet put-back', textContent: 'Put the point back', hidden: true });
  bar.append(words, button);
  return bar;
}
