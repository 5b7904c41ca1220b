// @ts-check
const WAIT = 400; // milliseconds before a press counts as held
const EVERY = 70;
const FASTER_AFTER = 15;

/**
 * Call `act` for a press on a matching button, and again and again while it is held down.
 * @param {HTMLElement} host @param {string} selector @param {(button: HTMLElement, times: number) => void} act
 */
export function holdToRepeat(host, selector, act) {
  /** @type {ReturnType<typeof setTimeout> | undefined} */
  let timer;
  let repeats = 0;

  /** @param {Event} event @returns {HTMLElement | null} */
  const buttonOf = (event) => /** @type {HTMLElement} */ (event.target).closest(selector);

  const stop = () => clearTimeout(timer);

  /** @param {HTMLElement} button */
  function again(button) {
    repeats += 1;
    act(button, repeats > FASTER_AFTER ? 10 : 1);
    timer = setTimeout(() => again(button), EVERY);
  }

  host.addEventListener('pointerdown', (event) => {
    const button = buttonOf(event);
    if (!button || event.button) return;
    repeats = 0;
    stop();
    timer = setTimeout(() => again(button), WAIT);
  });
  for (const end of ['pointerup', 'pointercancel', 'pointerleave']) host.addEventListener(end, stop);
  host.addEventListener('contextmenu', (event) => {
    if (buttonOf(event)) event.preventDefault(); // a long press on a phone
  });
  host.addEventListener('click', (event) => {
    const button = buttonOf(event);
    if (button && repeats === 0) act(button, 1);
    repeats = 0;
  });
}
