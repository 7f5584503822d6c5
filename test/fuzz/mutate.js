/** Wrong inputs that are nearly right: rubbish alone never gets past the first check. */
import { CallersOwnError, oddNumber, oddValue, PROTOTYPE_KEYS } from "./odd.js";
import { oneOf } from "./random.js";

/** @typedef {import("./random.js").Random} Random */
/** @typedef {{ holder: { [key: string]: unknown }, key: string }} Place Where a value stands. */

/** A copy that shares nothing but functions and typed arrays' types. @param {unknown} value @returns {unknown} */
export function copied(value) {
  if (Array.isArray(value)) return value.map(copied);
  if (ArrayBuffer.isView(value)) return structuredClone(value);
  if (typeof value !== "object" || value === null) return value;
  return Object.fromEntries(Object.entries(value).map(([key, inner]) => [key, copied(inner)]));
}

/** At most so many places are looked at: a long waveform must not crowd out the options beside it. */
const MOST_PER_HOLDER = 12;

/** @param {{ [key: string]: unknown }} holder @param {Random} random @returns {Place[]} */
function placesIn(holder, random) {
  /** @type {Place[]} */
  const places = [];
  /** @type {{ [key: string]: unknown }[]} */
  const open = [holder];
  for (let next = open.pop(); next !== undefined; next = open.pop()) {
    const keys = Object.keys(next);
    const from = Math.floor(random() * Math.max(1, keys.length - MOST_PER_HOLDER));
    for (const key of keys.slice(from, from + MOST_PER_HOLDER)) {
      places.push({ holder: next, key });
      const inner = next[key];
      if (typeof inner === "object" && inner !== null && !ArrayBuffer.isView(inner))
        open.push(/** @type {{ [key: string]: unknown }} */ (inner));
    }
  }
  return places;
}

/** @param {Place} place @param {unknown} value */
const put = ({ holder, key }, value) => {
  Object.defineProperty(holder, key, { value, enumerable: true, configurable: true, writable: true });
};

/** @param {unknown} value @param {Random} random */
function otherNumber(value, random) {
  const number = typeof value === "number" ? value : 1;
  const ways = [
    -number,
    0,
    number * 1e300,
    number * 1e-300,
    number * 10,
    number / 10,
    number + 1,
    number * (1 + 2 ** -52),
  ];
  return random() < 0.5 ? oddNumber(random) : oneOf(random, [...ways, -number * 1e9, String(number)]);
}

/** @type {readonly ((place: Place, random: Random, pool: readonly unknown[]) => void)[]} */
const WAYS = [
  (place, random) => put(place, oddValue(random)),
  (place, random) => put(place, otherNumber(place.holder[place.key], random)),
  (place, random) => put(place, otherNumber(place.holder[place.key], random)),
  (place) => {
    delete place.holder[place.key];
  },
  (place, random, pool) => put(place, copied(oneOf(random, pool))),
  // A value from elsewhere in the same arguments: the right type at the wrong place.
  ({ holder, key }, random) => put({ holder, key }, holder[oneOf(random, Object.keys(holder))]),
  ({ holder }, random) => {
    if (Array.isArray(holder)) holder.push(oddValue(random));
    else put({ holder, key: oneOf(random, PROTOTYPE_KEYS) }, oddValue(random));
  },
  ({ holder }) => {
    if (Array.isArray(holder)) holder.push(...holder.slice(0, 50));
  },
  ({ holder }) => {
    if (Array.isArray(holder)) holder.length = Math.floor(holder.length / 2);
  },
  ({ holder }) => {
    // A hole at the end.
    if (Array.isArray(holder)) holder.length += 1;
  },
  ({ holder, key }) => {
    const get = () => {
      throw new CallersOwnError("thrown by a getter");
    };
    Object.defineProperty(holder, key, { enumerable: true, configurable: true, get });
  },
  (place) => {
    // Not around a typed array, whose own methods do not work through a proxy: nobody can have such a thing.
    const value = place.holder[place.key];
    if (typeof value === "object" && value !== null && !ArrayBuffer.isView(value)) put(place, new Proxy(value, {}));
  },
  (place) => put(place, place.holder),
];

/**
 * Arguments for one call: a valid list with one to three changes, now and then pure rubbish.
 *
 * @param {readonly (readonly unknown[])[]} examples Valid argument lists of this function; none: rubbish.
 * @param {Random} random
 * @param {readonly unknown[]} pool Valid arguments of all functions.
 * @returns {unknown[]}
 */
export function oddArguments(examples, random, pool) {
  if (examples.length === 0 || random() < 0.1) {
    return Array.from({ length: Math.floor(random() * 4) }, () =>
      random() < 0.7 ? oddValue(random) : copied(oneOf(random, pool)),
    );
  }
  const list = /** @type {unknown[]} */ (copied(oneOf(random, examples)));
  const places = placesIn(/** @type {{ [key: string]: unknown }} */ (/** @type {unknown} */ (list)), random);
  const changes = places.length === 0 ? 0 : 1 + Math.floor(random() ** 2 * 3);
  for (let i = 0; i < changes; i++) {
    try {
      oneOf(random, WAYS)(oneOf(random, places), random, pool);
    } catch {
      // The change before has made this one impossible: a getter that throws stands in its way.
    }
  }
  return list;
}
