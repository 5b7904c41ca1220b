// @ts-check
/** What the browser keeps for the reader. A private window or a full disk may refuse: then the page goes on without. */

const PREFIX = 'handbook:';
const VERSION = 1;

/**
 * @param {() => Storage} open  may throw, as `localStorage` itself does where storage is forbidden
 */
export function connectMemory(open) {
  /** @template T @param {(storage: Storage) => T} use @param {T} otherwise */
  function attempt(use, otherwise) {
    try {
      return use(open());
    } catch {
      return otherwise;
    }
  }

  return {
    /** @param {string} key @returns {unknown} what was saved, or undefined */
    load(key) {
      const text = attempt((storage) => storage.getItem(PREFIX + key), null);
      if (text === null) return undefined;
      try {
        const saved = JSON.parse(text);
        return saved?.v === VERSION ? saved.value : undefined;
      } catch {
        return undefined;
      }
    },

    /** @param {string} key @param {unknown} value @returns {boolean} whether it was saved */
    save(key, value) {
      return attempt((storage) => {
        storage.setItem(PREFIX + key, JSON.stringify({ v: VERSION, value }));
        return true;
      }, false);
    },

    /** @param {string} key */
    forget(key) {
      attempt((storage) => storage.removeItem(PREFIX + key), undefined);
    },
  };
}

/** @typedef {ReturnType<typeof connectMemory>} Memory */

/** The site's own. */
export const memory = connectMemory(() => globalThis.localStorage);
