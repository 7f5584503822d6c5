/** Where no line may end: between a number and its unit, within a date or a designation, around the sign of `k = 2`. */

const NO_BREAK = "\u00a0";

/** Text with blanks at which no line ends. */
export const unbroken = (text: string): string =>
  text
    .replace(NUMBER_AND_UNIT, NO_BREAK)
    .replace(NUMBER_TIMES, `${NO_BREAK}×${NO_BREAK}`)
    .replace(COVERAGE_FACTOR, `k${NO_BREAK}=${NO_BREAK}`)
    .replace(AFTER_SIGN, NO_BREAK)
    .replace(DATE_AND_TIME, NO_BREAK);

/** The blank between a number, or the ratio of two, and its unit. */
const NUMBER_AND_UNIT =
  / (?=(?:[munµkM]?(?:A|V|W|VA|var|Hz|s|ohm|Ω)|[munµkM]?Hz\/s|min|h|cycles?|°|%|pu)(?![\p{L}\p{N}]))(?<=\d )/gu;

/** `8.8 × rated`, `3 × the setting`. */
const NUMBER_TIMES = /(?<=\d) × /gu;

const COVERAGE_FACTOR = /\bk = (?=\d)/gu;

/** A number stays with the sign in front of it, and what is on the right of `=` with that. */
const AFTER_SIGN = /(?<=(?<![^\s(])[±=]) (?=\S)/gu;

const DATE_AND_TIME = /(?<=\b\d{4}-\d{2}-\d{2}) (?=\d{2}:\d{2})/gu;

/** A date, a serial number or a terminal, `2026-11-18`, `S-0412`, `TB3-1`: browsers end lines behind their hyphens. */
export const WITH_HYPHENS = /(?<!\S)\S{0,16}[\p{L}\p{N}]-\d\S{0,16}(?!\S)/gu;
