/**
 * The 30 bits of a place in an array. An engine that knows a loop to run within them need not ask at every single sample
 * whether n + 7 overflows, which takes a tenth of its time and more: bounds are cut to them, `first & PLACES` where no array
 * is longer, else `Math.min(end, PLACES)`, and what lies beyond goes one by one.
 */
export const PLACES = 0x3fff_ffff;
