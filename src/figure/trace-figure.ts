import { above, fail, finite, nameIn, object, options, text } from "../base/check.js";
import { finiteDoubles } from "../base/doubles.js";
import { within } from "../base/input-error.js";
import type { Hertz, Seconds } from "../base/units.js";
import type { StackedFigure } from "./specification.js";
import type { DrawnState } from "./state-names.js";
import type { Course } from "./time-axis.js";
import { checkCount, checkSamples, type Wave, type WaveQuantity, type Window, wavesFigure } from "./wave-panels.js";

/** Samples of one input of a recorder or an oscilloscope, equally far apart. */
export interface CapturedTrace {
  readonly name: string;
  readonly quantity: WaveQuantity;
  /** Instantaneous values in V or A, two or more. */
  readonly samples: ArrayLike<number>;
  readonly sampleRate: Hertz;
  /** The instant of the first sample, in seconds; below 0 where the clock counts from a trigger. Default 0. */
  readonly start?: Seconds;
}

/** Something that begins at an instant: a fault, the opening of a breaker. */
export interface BegunState {
  readonly name: string;
  readonly startedAt: Seconds;
}

/** Which captured waves, from when to when. */
export interface TraceFigureOptions {
  readonly title: string;
  readonly traces: readonly CapturedTrace[];
  /** What begins when, in the order of time. Default: nothing is marked. */
  readonly states?: readonly BegunState[];
  /** Default: the first sample of all. */
  readonly from?: Seconds;
  /** Default: the last sample of all. */
  readonly to?: Seconds;
}

/**
 * Captured waves, instant by instant: voltages and currents on axes of their own over one axis of time, with what began when.
 *
 * @returns A Vega-Lite specification with panels above one another on one axis of time.
 * @throws A {@link InputError} for samples that are not finite (by place), a window outside what was captured, states out of
 * order, and a window with fewer than 2 samples of a trace or more than 20,000 of all.
 * Accuracy: the samples themselves; sample n lies at start + n/sampleRate.
 * @source definition
 *
 * @example
 * import { traceFigure } from "tripwright/figure";
 * import { sample } from "tripwright/sinusoid";
 * const samples = sample({ rms: 12, frequency: 50 }, { sampleRate: 4000, count: 400 });
 * const figure = traceFigure({
 *   title: "As captured",
 *   traces: [{ name: "ia", quantity: "current", samples, sampleRate: 4000, start: -0.04 }],
 *   states: [{ name: "fault", startedAt: 0 }],
 *   to: 0.02,
 * });
 * figure.description; // → "As captured. ia from -0.04 to 0.02 s, between -16.97 and 16.97; fault begins at 0 s."
 */
export function traceFigure(given: TraceFigureOptions): StackedFigure {
  const { title, traces, states = [] } = options(given, ["title", "traces", "states", "from", "to"]);
  text(title, "title", "a title");
  if (!Array.isArray(traces) || traces.length === 0) fail("wrong-length", "traces", "one trace or more", traces);
  const read = Array.from(traces, (trace: CapturedTrace, i) => within(`traces[${i}]`, () => readTrace(trace)));
  const window = windowOf(given, read);
  checkCount(read.reduce((sum, { sampleRate }) => sum + (window.to - window.from) * sampleRate, 0));
  const waves = read.map(({ name, quantity, ...trace }): Wave => ({ quantity, course: courseOf(name, trace, window) }));
  checkSamples({ waves }, Math.min(...read.map(({ sampleRate }) => sampleRate)), window);
  return wavesFigure({ title, window, states: drawnStates(states, window), waves });
}

interface ReadTrace {
  readonly name: string;
  readonly quantity: WaveQuantity;
  readonly samples: Float64Array;
  readonly sampleRate: Hertz;
  readonly start: Seconds;
}

function readTrace(trace: CapturedTrace): ReadTrace {
  const {
    name,
    quantity,
    sampleRate,
    start = 0,
  } = options(trace, ["name", "quantity", "samples", "sampleRate", "start"]);
  const samples = finiteDoubles(trace.samples, "samples", "an instantaneous value");
  if (samples.length < 2) fail("wrong-length", "samples", "two samples or more", samples);
  return {
    name: text(name, "name", "a name"),
    quantity: nameIn(quantity, { voltage: true, current: true }, "quantity"),
    samples,
    sampleRate: above(sampleRate, 0, "sampleRate", "a sample rate", "Hz"),
    start: finite(start, "start", "the instant of the first sample in seconds"),
  };
}

const instantOf = ({ start, sampleRate }: Pick<ReadTrace, "start" | "sampleRate">, n: number) => start + n / sampleRate;

function windowOf({ from, to }: TraceFigureOptions, traces: readonly ReadTrace[]): Window {
  const first = Math.min(...traces.map(({ start }) => start));
  const last = Math.max(...traces.map((trace) => instantOf(trace, trace.samples.length - 1)));
  const captured = `a time from ${first} to ${last} s, as captured`;
  const inside = (time: Seconds, path: string) =>
    finite(time, path, captured) >= first && time <= last ? time : fail("out-of-range", path, captured, time);
  const begin = inside(from ?? first, "from");
  return { from: begin, to: above(inside(to ?? last, "to"), begin, "to", "a time", "s") };
}

function courseOf(name: string, trace: Omit<ReadTrace, "name" | "quantity">, { from, to }: Window): Course {
  const points = Array.from(trace.samples, (value, n) => ({ time: instantOf(trace, n), value: value + 0, run: 0 }));
  return { name, points: points.filter(({ time }) => time >= from && time <= to) };
}

/** Each lasts until the next begins; what comes before the first has no name of its own. */
function drawnStates(states: readonly BegunState[], { from, to }: Window): DrawnState[] {
  if (!Array.isArray(states)) fail("wrong-type", "states", "a list of states { name, startedAt }", states);
  let before = Number.NEGATIVE_INFINITY;
  const begun = Array.from(states, (state: BegunState, i): BegunState => {
    const path = `states[${i}]`;
    const { name, startedAt } = object(state, path, "a state { name, startedAt }");
    if (finite(startedAt, `${path}.startedAt`, "an instant in seconds") <= before)
      fail(
        "out-of-range",
        `${path}.startedAt`,
        `an instant after ${before} s, where the state before begins`,
        startedAt,
      );
    before = startedAt;
    return { name: text(name, `${path}.name`, "a name"), startedAt };
  });
  const all = (begun[0]?.startedAt ?? to) > from ? [{ name: "before", startedAt: from }, ...begun] : begun;
  const drawn = all.map((state, i) => ({ ...state, endedAt: all[i + 1]?.startedAt ?? to }));
  return begun.length === 0 ? drawn.map((state) => ({ ...state, name: "" })) : drawn;
}
