/** A small seeded source of choices: every input of the fuzz script can be made again from its seed alone. */

/** @typedef {() => number} Random From 0 to 1, 1 excluded. */

/**
 * A source for one input: the text names it (function and number), so that inputs do not depend on those before them.
 * A hash of the text starts a 32-bit xorshift-multiply generator; its quality is ample for choosing rubbish.
 *
 * @param {string} name
 * @returns {Random}
 */
export function randomFor(name) {
  let state = 2166136261;
  for (let i = 0; i < name.length; i++) state = Math.imul(state ^ name.charCodeAt(i), 16777619);
  return () => {
    state = (state + 0x6d2b79f5) | 0;
    let mixed = Math.imul(state ^ (state >>> 15), 1 | state);
    mixed = (mixed + Math.imul(mixed ^ (mixed >>> 7), 61 | mixed)) ^ mixed;
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 2 ** 32;
  };
}

/**
 * One of the items.
 * @template T
 * @param {Random} random
 * @param {readonly T[]} items
 */
export const oneOf = (random, items) => /** @type {T} */ (items[Math.floor(random() * items.length)]);
