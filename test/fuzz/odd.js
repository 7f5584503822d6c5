/** What no caller should pass, and what some caller will. */
import { oneOf } from "./random.js";

/** What getters and traps of ours throw: it is the caller's own error and may pass through. */
export class CallersOwnError extends Error {}

const raise = () => {
  throw new CallersOwnError("thrown by the input");
};

/** Numbers at which formulas, grids and counters break. */
export const ODD_NUMBERS = [
  Number.NaN,
  Number.POSITIVE_INFINITY,
  Number.NEGATIVE_INFINITY,
  0,
  -0,
  1,
  -1,
  0.1,
  1 / 3,
  Number.EPSILON,
  1 + Number.EPSILON,
  1 - Number.EPSILON / 2,
  Number.MIN_VALUE,
  -Number.MIN_VALUE,
  2 ** -1022,
  1e-300,
  1e-30,
  1e-9,
  1e-3,
  30,
  90,
  360,
  1e3,
  1e6,
  1e9,
  -1e9,
  2 ** 31 - 1,
  2 ** 31,
  2 ** 32 - 1,
  2 ** 32,
  2 ** 53 - 1,
  2 ** 53,
  1e21,
  1e154,
  1e155,
  -1e160,
  1e300,
  Number.MAX_VALUE,
  -Number.MAX_VALUE,
];

const ODD_TEXTS = [
  "",
  " ",
  "0",
  "-0",
  "1",
  "1e400",
  "1e-400",
  "0x10",
  "1,5",
  "NaN",
  "Infinity",
  "5 A",
  "5 %",
  "−5",
  "1/0",
  "11/60",
  "1e9999999999",
  `0.${"0".repeat(400)}1`,
  "9".repeat(500),
  "__proto__",
  "constructor",
  "toString",
  "iec-inverse",
  "\u0000",
  "\ud800",
  "‮",
  "<script>alert(1)</script>",
  "=1+1",
  '"\r\n,',
  "{{x}}",
  "a".repeat(20_000),
];

/** Keys that every object answers to although nobody gave them. */
export const PROTOTYPE_KEYS = ["__proto__", "constructor", "prototype", "toString", "valueOf", "hasOwnProperty"];

/** @param {number} depth */
function deep(depth) {
  /** @type {unknown} */
  let value = 1;
  for (let i = 0; i < depth; i++) value = i % 2 === 0 ? [value] : { a: value };
  return value;
}

function cyclic() {
  /** @type {{ [key: string]: unknown }} */
  const value = { rms: 1, frequency: 50 };
  value["self"] = value;
  value["harmonics"] = [value];
  return value;
}

function cyclicArray() {
  /** @type {unknown[]} */
  const value = [1, 2];
  value.push(value);
  return value;
}

function revoked() {
  const { proxy, revoke } = Proxy.revocable({}, {});
  revoke();
  return proxy;
}

const throwingTraps = new Proxy({}, { get: raise, has: raise, ownKeys: raise, getOwnPropertyDescriptor: raise });

/** Everything that is no number and no text. @type {readonly (() => unknown)[]} */
const ODD_THINGS = [
  () => undefined,
  () => null,
  () => true,
  () => false,
  () => 1n,
  () => 10n ** 400n,
  () => Symbol("s"),
  () => () => 1,
  () => () => Number.NaN,
  () => raise,
  () => class {},
  () => [],
  () => [[]],
  () => [undefined],
  () => [Number.NaN],
  () => ["1", 2, null],
  () => new Array(5),
  () => Object.assign(new Array(1000), { 500: 1 }),
  () => new Array(1e5),
  () => cyclicArray(),
  () => ({}),
  () => Object.create(null),
  () => Object.create({ rms: 1, frequency: 50, curve: "iec-inverse" }),
  () => cyclic(),
  () => deep(100),
  () => deep(20_000),
  () => JSON.parse('{"__proto__": {"rms": 1}, "constructor": 1}'),
  () => Object.defineProperty({}, "rms", { enumerable: true, get: raise }),
  () => new Proxy({}, {}),
  () => new Proxy([], {}),
  () => throwingTraps,
  () => revoked(),
  () => ({ length: 5 }),
  () => ({ length: 1e9 }),
  () => ({ length: -1 }),
  () => ({ length: Number.NaN, 0: 1 }),
  () => ({ toFixed: () => "1.5" }),
  () => ({ toFixed: () => "NaN" }),
  () => ({ toFixed: () => Number.NaN }),
  () => ({ toFixed: raise }),
  () => ({ valueOf: () => 3, toString: () => "3" }),
  () => ({ [Symbol.toPrimitive]: raise }),
  () => ({ [Symbol.iterator]: raise }),
  () => ({ toJSON: raise }),
  () => new Date(Number.NaN),
  () => new Date(0),
  () => /a/,
  () => new Map([["rms", 1]]),
  () => new Set([1]),
  () => new Error("an error"),
  () => Promise.resolve(1),
  () => new Number(1),
  () => new String("iec-inverse"),
  () => new Float64Array(4),
  () => new Float64Array([1, Number.NaN, 2, Number.POSITIVE_INFINITY]),
  () => new Int16Array(3),
  () => new BigInt64Array(2),
  () => new Uint8Array(0),
  () => new ArrayBuffer(8),
];

/** A number, usually one of those above, otherwise any double at all. @param {import("./random.js").Random} random */
export function oddNumber(random) {
  if (random() < 0.7) return oneOf(random, ODD_NUMBERS);
  const sign = random() < 0.5 ? -1 : 1;
  return sign * random() * 10 ** Math.floor(random() * 40 - 20);
}

/** @param {import("./random.js").Random} random @returns {unknown} */
export function oddValue(random) {
  const kind = random();
  if (kind < 0.4) return oddNumber(random);
  if (kind < 0.55) return oneOf(random, ODD_TEXTS);
  return oneOf(random, ODD_THINGS)();
}
