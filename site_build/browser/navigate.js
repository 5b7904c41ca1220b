// @ts-check
/**
 * Follow links inside the book without loading the document again, so that Python, once started, goes on. Only the parts that
 * differ between two pages are exchanged. Whatever is unusual falls back on the browser's own way.
 */
const PARTS = ['[data-md-component="container"]', '[data-md-component="skip"]', '[data-md-component="logo"]', '[data-md-component="header-topic"]'];

/**
 * @param {string} href @param {string} here the address of the page now @param {string} top the address of the site
 * @returns {boolean} whether it is another page of this book
 */
export function isOtherPage(href, here, top) {
  const [to, from] = [new URL(href, here), new URL(here)];
  if (!to.href.startsWith(top) || !/(\.html|\/)$/.test(to.pathname)) return false;
  return to.pathname !== from.pathname || to.search !== from.search;
}

/** @param {string} top the address of the site @param {() => void} arrived called when another page stands in place */
export function followLinks(top, arrived) {
  let latest = 0;
  history.scrollRestoration = 'manual';

  document.addEventListener('click', (event) => {
    const link = /** @type {Element} */ (event.target).closest?.('a[href]');
    if (!(link instanceof HTMLAnchorElement) || event.defaultPrevented || event.button !== 0) return;
    if (event.metaKey || event.ctrlKey || event.shiftKey || event.altKey || link.target || link.download) return;
    if (!isOtherPage(link.href, location.href, top)) return;
    event.preventDefault();
    keepPlace();
    void go(link.href, true);
  });
  addEventListener('popstate', (event) => {
    if (shown !== location.pathname + location.search) void go(location.href, false, event.state?.scroll ?? 0);
    else if (typeof event.state?.scroll === 'number') scrollTo(0, event.state.scroll);
  });
  addEventListener('scroll', remember, { passive: true });

  let shown = location.pathname + location.search;
  /** @type {ReturnType<typeof setTimeout> | undefined} */
  let resting;

  function remember() {
    clearTimeout(resting);
    resting = setTimeout(keepPlace, 200);
  }

  function keepPlace() {
    clearTimeout(resting);
    if (shown === location.pathname + location.search) history.replaceState({ ...history.state, scroll: scrollY }, '');
  }

  /** @param {string} href @param {boolean} push @param {number} [scroll] */
  async function go(href, push, scroll = 0) {
    const mine = ++latest;
    try {
      const response = await fetch(href);
      const page = new DOMParser().parseFromString(await response.text(), 'text/html');
      if (mine !== latest) return;
      const parts = PARTS.map((part) => /** @type {const} */ ([document.querySelector(part), page.querySelector(part)]));
      if (!response.ok || parts.some(([old, fresh]) => !old !== !fresh)) return location.assign(href);
      if (push) history.pushState({ scroll: 0 }, '', href);
      shown = location.pathname + location.search;
      for (const [old, fresh] of parts) if (old && fresh) old.replaceWith(fresh);
      document.title = page.title;
      arrive(scroll);
    } catch {
      location.assign(href);
    }
  }

  /** @param {number} scroll */
  function arrive(scroll) {
    for (const toggle of document.querySelectorAll('input.md-toggle')) /** @type {HTMLInputElement} */ (toggle).checked = false;
    /** @type {any} */ (globalThis).document$?.next?.(document); // the theme's own parts start again
    arrived();
    const target = location.hash && document.getElementById(decodeURIComponent(location.hash.slice(1)));
    if (target) target.scrollIntoView();
    else scrollTo(0, scroll);
    const head = document.querySelector('article h1');
    head?.setAttribute('tabindex', '-1');
    /** @type {HTMLElement | null} */ (head)?.focus({ preventScroll: true });
  }
}
