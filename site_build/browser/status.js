// @ts-check
/** @typedef {import('./messages.js').State} State */
/** @typedef {import('./offline.js').OfflineState} OfflineState */

const STAGES = { engine: 'getting ready: 1 of 3', python: 'getting ready: 2 of 3', calculators: 'getting ready: 3 of 3' };

/**
 * Say beside each calculator how Python is.
 * @param {State} state @param {() => void} retry @param {ParentNode} root
 */
export function showPython(state, retry, root = document) {
  for (const place of root.querySelectorAll('.calculator .state')) {
    const element = /** @type {HTMLElement} */ (place);
    element.dataset.is = state.state;
    if (state.state !== 'failed') {
      element.textContent = inWords(state);
      continue;
    }
    const button = document.createElement('button');
    button.type = 'button';
    button.textContent = 'Try again';
    button.title = state.reason;
    button.addEventListener('click', retry);
    element.replaceChildren('The calculator did not start; what you see is the book’s example. ', button);
  }
}

/** @param {State} state @returns {string} */
export function inWords(state) {
  if (state.state === 'starting') return STAGES[state.stage];
  return state.state === 'ready' ? 'live' : '';
}

/**
 * Say at the foot of the page whether the book works without a network, and offer a new edition.
 * @param {OfflineState} state @param {() => void} update
 */
export function showOffline(state, update) {
  const place = document.querySelector('[data-offline]');
  if (place) place.textContent = offlineInWords(state);
  const there = document.querySelector('.new-edition');
  if (state.state !== 'update') return there?.remove();
  if (there) return;
  const bar = document.createElement('div');
  bar.className = 'new-edition';
  bar.setAttribute('role', 'status');
  const button = document.createElement('button');
  button.type = 'button';
  button.textContent = 'Show it';
  button.addEventListener('click', update);
  bar.append('A new edition of the book is ready. ', button);
  document.body.append(bar);
}

/** @param {OfflineState} state @returns {string} */
export function offlineInWords(state) {
  switch (state.state) {
    case 'saving':
      return state.total ? `Saving the book on this device: ${Math.round((100 * state.saved) / state.total)} %` : 'Saving the book on this device';
    case 'ready':
    case 'update':
      return 'Ready offline: the whole book is saved on this device.';
    case 'failed':
      return `Not saved for offline use: ${state.reason}.`;
    default:
      return '';
  }
}
