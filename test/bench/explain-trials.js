/**
 * Relays and readings with one known cause, for the evidence on `explain`: what is read comes from `rehearsal`, which does
 * not share a line with the predictions of `explain`; then the readings are written as the cause would have them, and
 * scatter as a sound relay and its instruments do.
 */
import { explain, nextInjection } from "tripwright/explain";
import { plan, readSheet } from "tripwright/plan";
import { judge } from "tripwright/record";
import { rehearsePlan } from "tripwright/rehearsal";

/** @import { Check, Plan, Sheet, SheetElement } from "tripwright/plan" */
/** @import { Reading } from "tripwright/record" */
/** @import { Explanation } from "tripwright/explain" */

/**
 * @typedef {object} Scenario
 * @property {string} cause
 * @property {string} [which]
 * @property {string} element the one that is explained
 * @property {"current" | "voltage" | "neighbour" | "direction"} bench
 * @property {(element: SheetElement) => object} [relay] how the relay is really set
 * @property {(check: Check) => Check} [source] what the source really does
 * @property {(value: number, about: { check: Check, repeat: number }) => number} [write] what is written for what was read
 * @property {number} [repeats]
 */

const common = {
  format: "tripwright/sheet@1",
  substation: "Corriedale Junction",
  feeder: "Tannery Lane",
  relay: "F12",
};
const source = {
  maximumCurrent: "200 A",
  maximumVoltage: "300 V",
  accuracy: { current: { percent: 0.2 }, voltage: { percent: 0.1 }, time: { absolute: "1 ms" } },
};
const over = { pickup: { percent: 5 }, time: { percent: 5, absolute: "40 ms" }, dropout: { percent: 3 } };
const e51 = {
  id: "51P",
  function: "51",
  pickup: "4 A",
  dropoutRatio: 0.95,
  curve: "iec-inverse",
  multiplier: 0.2,
  startContact: "start",
  accuracy: over,
};
const e46 = {
  id: "46",
  function: "46",
  watches: "I2",
  pickup: "1 A",
  dropoutRatio: 0.95,
  delay: "3 s",
  contact: "trip 2",
  startContact: "start 2",
  accuracy: over,
};
const e50 = { id: "50P", function: "50", pickup: "40 A", delay: "50 ms", dropoutRatio: 0.95, accuracy: over };
const volt = { pickup: { percent: 1 }, time: { percent: 1, absolute: "40 ms" }, dropout: { percent: 1 } };
const e59 = {
  id: "59",
  function: "59",
  watches: "line-to-line",
  pickup: "121 V",
  dropoutRatio: 0.98,
  delay: "2 s",
  accuracy: volt,
};
const e27 = {
  id: "27",
  function: "27",
  watches: "line-to-line",
  pickup: "88 V",
  dropoutRatio: 1.02,
  delay: "1.5 s",
  contact: "trip 2",
  accuracy: volt,
};

/** Limit of error of the angles, in degrees. */
const ANGLE = 3;

const e67 = {
  id: "67P",
  function: "67",
  watches: "phase",
  pickup: "4 A",
  delay: "300 ms",
  startContact: "start",
  polarising: "quadrature",
  characteristicAngle: "45°",
  operates: "forward",
  dropoutRatio: 0.95,
  accuracy: { ...over, angle: { absolute: `${ANGLE}°` } },
};

const BENCHES = {
  current: { ...common, frequency: "50 Hz", values: "secondary", ct: "400/5", source, elements: [e51, e46] },
  neighbour: { ...common, frequency: "50 Hz", values: "secondary", ct: "400/5", source, elements: [e51, e50] },
  direction: {
    ...common,
    frequency: "50 Hz",
    values: "secondary",
    ct: "400/5",
    vt: "11 kV/110 V",
    source,
    elements: [e67, { ...e51, contact: "trip 2", startContact: "start 2" }],
  },
  voltage: { ...common, frequency: "50 Hz", values: "secondary", vt: "11 kV/110 V", source, elements: [e59, e27] },
};

/** @type {Map<string, { sheet: Sheet, planned: Plan }>} */
const made = new Map();

/** @param {Scenario["bench"]} name */
export function bench(name) {
  const known = made.get(name);
  if (known !== undefined) return known;
  const sheet = readSheet(BENCHES[name]);
  const fresh = { sheet, planned: plan(sheet) };
  made.set(name, fresh);
  return fresh;
}

/** @param {number} factor @param {string[]} [only] */
const pickups = (factor, only) => (/** @type {any} */ element) =>
  only === undefined || only.includes(element.id)
    ? { ...element, pickup: `${Number.parseFloat(element.pickup) * factor} ${element.pickup.slice(-1)}` }
    : element;

/** @param {object} fields */
const with51 = (fields) => (/** @type {any} */ element) => (element.id === "51P" ? { ...element, ...fields } : element);

/** What the source puts out, other than it says. @param {(rms: number) => number} really */
const puttingOut = (really) => (/** @type {Check} */ check) => ({
  ...check,
  timeline: {
    ...check.timeline,
    segments: check.timeline.segments.map((segment) => ({
      ...segment,
      channels: Object.fromEntries(
        Object.entries(segment.channels).map(([name, state]) => [
          name,
          { ...state, rms: state.rms > 0 ? really(state.rms) : 0 },
        ]),
      ),
    })),
  },
});

/** @param {object} fields */
const with67 = (fields) => (/** @type {any} */ element) => (element.id === "67P" ? { ...element, ...fields } : element);

/** @param {object} fields */
const with27 = (fields) => (/** @type {any} */ element) => (element.id === "27" ? { ...element, ...fields } : element);

/** @param {(input: string, factor: number) => [string, number]} feed */
const wiredAs = (feed) => (/** @type {Check} */ check) => ({
  ...check,
  timeline: {
    ...check.timeline,
    wiring: Object.fromEntries(
      Object.entries(check.timeline.wiring).map(([name, { quantity, feeds }]) => [
        name,
        { quantity, feeds: Object.fromEntries(Object.entries(feeds).map(([input, factor]) => feed(input, factor))) },
      ]),
    ),
  },
});

/** A time of the element is written otherwise. @param {string} id @param {(time: number, repeat: number, check: Check) => number} written */
const times =
  (id, written) =>
  (/** @type {number} */ value, /** @type {{ check: Check, repeat: number }} */ { check, repeat }) =>
    check.element === id && check.proves === "operate-time" ? written(value, repeat, check) : value;

/** @type {readonly Scenario[]} */
export const SCENARIOS = [
  { cause: "pickup-setting", element: "51P", bench: "current", relay: pickups(1.12, ["51P"]) },
  { cause: "time-multiplier", element: "51P", bench: "current", relay: with51({ multiplier: 0.25 }) },
  {
    cause: "delay-setting",
    element: "46",
    bench: "current",
    relay: (e) => (e.id === "46" ? { ...e, delay: "3.5 s" } : e),
  },
  {
    cause: "dropout-setting",
    element: "46",
    bench: "current",
    relay: (e) => (e.id === "46" ? { ...e, dropoutRatio: 0.88 } : e),
  },
  {
    cause: "another-curve",
    which: "iec-very-inverse",
    element: "51P",
    bench: "current",
    relay: with51({ curve: "iec-very-inverse" }),
  },
  {
    cause: "another-curve",
    which: "ieee-moderately-inverse",
    element: "51P",
    bench: "current",
    relay: with51({ curve: "ieee-moderately-inverse", reset: { form: "instantaneous" } }),
  },
  { cause: "ceiling", element: "51P", bench: "current", relay: with51({ ceilingMultiple: 5 }) },
  { cause: "minimum-time", element: "51P", bench: "current", relay: with51({ minimumTime: "0.9 s" }) },
  { cause: "ct-secondary", element: "51P", bench: "current", relay: pickups(0.2) },
  { cause: "ct-tap", which: "0.6667 × the ratio", element: "51P", bench: "current", relay: pickups(1.5) },
  {
    cause: "currents-reversed",
    element: "67P",
    bench: "direction",
    source: wiredAs((input, factor) => [input, input.startsWith("i") ? -factor : factor]),
  },
  { cause: "direction-setting", element: "67P", bench: "direction", relay: with67({ operates: "reverse" }) },
  { cause: "characteristic-angle", element: "67P", bench: "direction", relay: with67({ characteristicAngle: "30°" }) },
  { cause: "sector-limit", which: "leading", element: "67P", bench: "direction", relay: with67({ leading: "75°" }) },
  { cause: "blocking-level", element: "27", bench: "voltage", relay: with27({ blockBelow: "75 V" }) },
  { cause: "blocking-level", element: "67P", bench: "direction", relay: with67({ minimumVoltage: "120 V" }) },
  { cause: "arming-level", element: "27", bench: "voltage", relay: with27({ armAbove: "100 V" }) },
  { cause: "pickup-setting", element: "67P", bench: "direction", relay: with67({ pickup: "4.6 A" }) },
  {
    cause: "primary-for-secondary",
    which: "primary entered",
    element: "51P",
    bench: "current",
    relay: pickups(80, ["51P"]),
  },
  { cause: "line-to-line", which: "lower", element: "27", bench: "voltage", relay: pickups(1 / Math.sqrt(3), ["27"]) },
  {
    cause: "peak-for-rms",
    which: "peak",
    element: "51P",
    bench: "current",
    source: puttingOut((rms) => rms / Math.SQRT2),
  },
  {
    cause: "average-meter",
    which: "square",
    element: "51P",
    bench: "current",
    source: puttingOut((rms) => (rms * 2 * Math.SQRT2) / Math.PI),
  },
  { cause: "source-gain", element: "51P", bench: "current", source: puttingOut((rms) => 0.93 * rms) },
  { cause: "source-offset", element: "46", bench: "current", source: puttingOut((rms) => rms + 0.1) },
  {
    cause: "ramp-too-fast",
    element: "51P",
    bench: "current",
    write: (value, { check: { element, sweep } }) =>
      element === "51P" && sweep ? value + 0.3 * Math.sign(sweep.to - sweep.from) : value,
  },
  {
    cause: "timer-from-prefault",
    element: "51P",
    bench: "current",
    write: times("51P", (time, _, { timeline }) => time + (timeline.segments[0]?.duration ?? 0)),
  },
  { cause: "breaker-time", element: "51P", bench: "current", write: times("51P", (time) => time + 0.12) },
  {
    cause: "cycles-for-seconds",
    which: "cycles written",
    element: "51P",
    bench: "current",
    write: times("51P", (time) => 50 * time),
  },
  {
    cause: "other-frequency",
    which: "50 Hz for 60 Hz",
    element: "51P",
    bench: "current",
    write: times("51P", (time) => 1.2 * time),
  },
  {
    cause: "disk-not-reset",
    element: "51P",
    bench: "current",
    repeats: 3,
    write: times("51P", (time, repeat) => (repeat > 1 ? 0.7 * time : time)),
  },
  {
    cause: "rotation-reversed",
    element: "46",
    bench: "current",
    source: wiredAs((input, factor) => [{ ib: "ic", ic: "ib" }[input] ?? input, factor]),
  },
  {
    cause: "polarity-reversed",
    element: "46",
    bench: "current",
    source: wiredAs((input, factor) => [input, input === "ia" ? -factor : factor]),
  },
  {
    cause: "neighbour-first",
    which: "50P",
    element: "51P",
    bench: "neighbour",
    source: (check) => ({ ...check, block: [] }),
  },
  {
    cause: "drift",
    element: "51P",
    bench: "current",
    repeats: 5,
    write: times("51P", (time, repeat) => time * (1 + 0.02 * (repeat - 1))),
  },
];

/** Normal numbers from a seed (the polar method of Marsaglia over a linear congruence). @param {number} seed */
export function normals(seed) {
  let state = (seed * 2654435761 + 12345) >>> 0;
  const uniform = () => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return (state + 0.5) / 4294967296;
  };
  for (let i = 0; i < 8; i++) uniform();
  return () => {
    for (;;) {
      const [u, v] = [2 * uniform() - 1, 2 * uniform() - 1];
      const s = u * u + v * v;
      if (s > 0 && s < 1) return u * Math.sqrt((-2 * Math.log(s)) / s);
    }
  };
}

/** What is allowed of a value, from the accuracies above. @param {number} value @param {Check} check */
function allowed(value, { proves, unit }) {
  const { pickup, time, dropout } = unit === "V" ? volt : over;
  if (unit === "°") return ANGLE;
  if (proves === "operate-time") return Math.max((time.percent / 100) * value, 0.04);
  return ((proves === "dropout" ? dropout : pickup).percent / 100) * value;
}

/**
 * What is read of some checks under a scenario, without scatter.
 * @param {Partial<Scenario>} scenario @param {Sheet} sheet @param {readonly Check[]} checks
 */
export function readUnder({ relay = (e) => e, source: really = (c) => c }, sheet, checks) {
  const set = readSheet({ ...sheet, elements: sheet.elements.map((element) => relay(element)) });
  return rehearsePlan(set, { checks: checks.map((check) => really(check)) });
}

/**
 * Written and scattered: each check has an error of the relay, and each reading one of its own.
 * @param {Partial<Scenario>} scenario @param {ReturnType<typeof readUnder>} read @param {readonly Check[]} checks
 * @param {(() => number)} draw @param {number} [first] the number of the first repeat
 * @returns {Reading[]}
 */
export function writtenDown({ write = (value) => value, repeats = 1 }, read, checks, draw, first = 1) {
  return read.flatMap(({ check: id, value }) => {
    const check = /** @type {Check} */ (checks.find((one) => one.id === id));
    // Where a sweep begins beyond the start, the level at which it begins is read, whatever scatters.
    const isScattered = typeof value === "number" && value !== check.sweep?.from;
    const [lasting, scale] = [draw(), isScattered ? allowed(value, check) : 0];
    return Array.from({ length: check.sweep ? 1 : repeats }, (_, i) => {
      const repeat = first + i;
      const scattered = typeof value === "number" ? value + (0.2 * lasting + 0.05 * draw()) * scale : value;
      const told =
        typeof scattered === "number"
          ? write(check.unit === "°" ? scattered : Math.max(0, scattered), { check, repeat })
          : scattered;
      return { check: id, stage: /** @type {const} */ ("as-found"), repeat, value: told };
    });
  });
}

/** @param {Explanation} explanation @param {Scenario} scenario */
export const isTrue = ({ cause, which }, scenario) =>
  cause === scenario.cause && (scenario.which === undefined || which === scenario.which);

/** @param {readonly Explanation[]} explanations @param {string} element */
const leadersOf = (explanations, element) => explanations.filter((one) => one.element === element && one.leading);

/** @param {Explanation} one */
export const nameOf = ({ cause, which }) => `${cause} ${which ?? ""}`.trim();

/**
 * Causes that these readings cannot tell from the true one: without any scatter the misfits differ by no more than a tie
 * is wide and what scatter adds to it in one case of twenty, D ≤ (√threshold + 1.645)², so that nothing could separate
 * them in 95 % of trials.
 * @param {readonly Explanation[]} unscattered @param {Scenario} scenario
 */
function alikeIn(unscattered, scenario) {
  const truth = unscattered.find((one) => isTrue(one, scenario));
  if (truth === undefined) return new Set();
  const most = truth.misfit + (Math.sqrt(truth.threshold) + 1.645) ** 2;
  return new Set(unscattered.filter(({ cause, misfit }) => cause !== "unexplained" && misfit <= most).map(nameOf));
}

/**
 * One scenario, a number of times.
 * @param {Scenario} scenario @param {{ trials: number, seed: number, rounds?: number }} how
 */
export function tryOut(scenario, { trials, seed, rounds = 0 }) {
  const { sheet, planned } = bench(scenario.bench);
  const read = readUnder(scenario, sheet, planned.checks);
  const unscattered = writtenDown(scenario, read, planned.checks, () => 0);
  const alike = alikeIn(
    explain(judge(sheet, planned, unscattered)).filter(({ element }) => element === scenario.element),
    scenario,
  );
  const draw = normals(seed);
  /** @type {Map<string, number>} */
  const firsts = new Map();
  let [right, settled, alone, ties] = [0, 0, 0, 0];
  for (let trial = 0; trial < trials; trial++) {
    const checks = [...planned.checks];
    let readings = writtenDown(scenario, read, checks, draw);
    let record = judge(sheet, planned, readings);
    let own = explain(record).filter(({ element }) => element === scenario.element);
    const leaders = leadersOf(own, scenario.element);
    const place = leaders.findIndex((one) => isTrue(one, scenario));
    const isRight = place >= 0 && leaders.slice(0, place).every((one) => alike.has(nameOf(one)));
    if (isRight) right++;
    const first = own[0] === undefined ? "nothing" : nameOf(own[0]);
    firsts.set(first, (firsts.get(first) ?? 0) + 1);
    if (rounds === 0) continue;
    for (let round = 0; ; round++) {
      const next = nextInjection(own, { sheet, plan: { ...planned, checks } });
      if (next.kind === "none") {
        const last = leadersOf(own, scenario.element);
        if (last.some((one) => isTrue(one, scenario))) settled++;
        if (last.length === 1 && isTrue(/** @type {Explanation} */ (last[0]), scenario)) alone++;
        break;
      }
      if (round === 0) ties++;
      if (round === rounds) break;
      const { injection, repeat } = next;
      if (!checks.some(({ id }) => id === injection.id)) checks.push(injection);
      const more = writtenDown(
        { ...scenario, repeats: 1 },
        readUnder(scenario, sheet, [injection]),
        [injection],
        draw,
        repeat,
      );
      readings = [...readings, ...more];
      record = judge(sheet, { ...planned, checks }, readings);
      own = explain(record).filter(({ element }) => element === scenario.element);
    }
  }
  return { right, settled, alone, ties, firsts };
}

/** How often something is claimed where nothing is wrong. @param {{ trials: number, seed: number }} how */
export function claimsWithoutFault({ trials, seed }) {
  const draw = normals(seed);
  let claims = 0;
  for (const name of /** @type {const} */ (["current", "voltage", "direction"])) {
    const { sheet, planned } = bench(name);
    const read = readUnder({}, sheet, planned.checks);
    for (let trial = 0; trial < trials / 3; trial++) {
      const record = judge(sheet, planned, writtenDown({}, read, planned.checks, draw));
      if (explain(record, { elements: "all" }).length > 0) claims++;
    }
  }
  return claims;
}
