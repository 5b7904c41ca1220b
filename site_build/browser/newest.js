// @ts-check
/**
 * Let the newest question win: one is in flight, one waits, and a newer one takes the place of the one that waits.
 * An answer that was already under way is still given, so a drawing follows a drag instead of standing still.
 * @template Q, A
 * @param {(question: Q) => Promise<A>} ask
 * @returns {(question: Q) => Promise<A | undefined>} undefined: a newer question took this one's place
 */
export function newest(ask) {
  let busy = false;
  /** @type {{question: Q, resolve: (answer: A | undefined | Promise<A>) => void} | null} */
  let next = null;

  /** @param {Q} question */
  async function send(question) {
    busy = true;
    try {
      return await ask(question);
    } finally {
      busy = false;
      const following = next;
      next = null;
      if (following) following.resolve(send(following.question));
    }
  }

  return (question) => {
    if (!busy) return send(question);
    next?.resolve(undefined);
    return new Promise((resolve) => {
      next = { question, resolve };
    });
  };
}
