import { nameIn, object, options } from "../base/check.js";
import { sum } from "../base/double-double.js";
import { amplitudes, type KnownAmplitude, type Shape, SINE_FORM_FACTOR } from "./amplitudes.js";
import { inRange } from "./cycles.js";
import { readTrace } from "./trace.js";

/** What a meter responds to. */
export type MeterKind = "true-rms" | "average-responding" | "peak-responding";

/** A meter, and whether it sees the d.c. component of what it measures. */
export interface Meter {
  readonly kind: MeterKind;
  /** `"ac"`: behind a capacitor, the mean is taken away; `"ac+dc"`: everything counts. */
  readonly coupling?: "ac" | "ac+dc";
}

/** One amplitude of a wave, and its shape; a sine where none is named. */
export type ShapedAmplitude = KnownAmplitude & { readonly shape?: Shape };

/** What a meter can respond to. */
type Response = Readonly<Record<"rms" | "averageRectified" | "peak", number>>;

/** What each responds to, and the scale that makes it show the rms of a sine. */
const KINDS: Readonly<Record<MeterKind, readonly [keyof Response, number]>> = {
  "true-rms": ["rms", 1],
  "average-responding": ["averageRectified", SINE_FORM_FACTOR],
  "peak-responding": ["peak", Math.SQRT1_2],
};

/** The shapes with a d.c. component: rms and mean of the magnitude of what is left without it, over the peak. */
const WITHOUT_MEAN: { readonly [shape in Shape]?: readonly [number, number] } = {
  "half-wave": [0.3855889214664527, 0.35084240803316175], // √(1/4 − 1/π²), (2/π)(√(1 − 1/π²) − acos(1/π)/π)
  "full-wave": [0.3077584530612424, 0.26803431961488927], // √(1/2 − 4/π²), (4/π)(√(1 − 4/π²) − 2 acos(2/π)/π)
};

/**
 * What a meter shows for a wave. All meters agree on a sine; on any other wave they do not, which is what many disputes
 * over readings are about.
 *
 *     true-rms              rms
 *     average-responding    π/(2√2) · mean of the magnitude    (scaled to show the rms of a sine)
 *     peak-responding       largest magnitude / √2             (scaled likewise)
 *
 * The d.c. component: a meter with coupling `"ac"` takes the mean away first, one with `"ac+dc"` does not. As they are
 * usually built, average- and peak-responding meters block it, which is the default for them; the default for `"true-rms"`
 * is `"ac+dc"`, the rms value of everything. Many hand-held true-rms meters are AC-coupled: say so for them.
 *
 * @param wave - An amplitude with its shape, as for {@link amplitudes}, or samples over whole cycles, evenly spaced.
 * @param meter - Its kind, or its kind and coupling.
 * @throws A {@link InputError} as {@link amplitudes} does, for an unknown kind or coupling, no samples, or a sample that is
 * no finite number (`samples[7]`).
 * Accuracy: within 3 units in the last place for a shape; 2e-15 of the largest sample for any number of samples.
 * @source definitions; common practice for the couplings
 *
 * @example
 * import { meterReading } from "tripwright/sinusoid";
 * meterReading({ peak: 10, shape: "square" }, "true-rms"); // → 10
 * meterReading({ peak: 10, shape: "square" }, "average-responding").toFixed(2); // → "11.11"
 * meterReading({ peak: 10, shape: "half-wave" }, { kind: "true-rms", coupling: "ac" }).toFixed(2); // → "3.86"
 * meterReading([4, 4, -2, -2], "true-rms").toFixed(3); // → "3.162"
 * meterReading([4, 4, -2, -2], { kind: "true-rms", coupling: "ac" }); // → 3
 */
export function meterReading(wave: ShapedAmplitude | ArrayLike<number>, meter: MeterKind | Meter): number {
  const given: Meter = typeof meter === "string" ? { kind: meter } : options(meter, ["kind", "coupling"], "meter");
  const [name, scale] = KINDS[nameIn(given.kind, KINDS, given === meter ? "meter.kind" : "meter")];
  const { coupling = name === "rms" ? "ac+dc" : "ac" } = given;
  const blocks = nameIn(coupling, { ac: 0, "ac+dc": 0 }, "meter.coupling") === "ac";
  const isList = Array.isArray(wave) || ArrayBuffer.isView(wave);
  const response = isList ? ofSamples(wave as ArrayLike<number>, blocks) : ofShape(wave as ShapedAmplitude, blocks);
  return inRange(response[name] * scale, "wave", response.peak);
}

function ofShape(wave: ShapedAmplitude, blocks: boolean): Response {
  const { shape = "sine", ...known } = object(wave, "wave", "samples, or an amplitude with its shape");
  const all = amplitudes(known as KnownAmplitude, shape);
  const rest = WITHOUT_MEAN[shape];
  if (!blocks || rest === undefined) return all;
  // These are never negative, so that the mean of their magnitude is their mean.
  const { peak, averageRectified: mean } = all;
  return { rms: rest[0] * peak, averageRectified: rest[1] * peak, peak: Math.max(peak - mean, mean) };
}

function ofSamples(list: ArrayLike<number>, blocks: boolean): Response {
  const { values, middle, half, maximum, minimum } = readTrace(list, 1);
  // As shares of the largest, so that no square leaves the range of a double.
  const size = Math.max(maximum, -minimum) || 1;
  const direct = (blocks ? -half * meanOf(values) : middle) / size;
  const shares = values.map((x) => direct + (half / size) * x);
  return {
    rms: size * Math.sqrt(meanOf(shares.map((x) => x * x))),
    averageRectified: size * meanOf(shares.map(Math.abs)),
    peak: size * shares.reduce((most, x) => Math.max(most, Math.abs(x)), 0),
  };
}

/** With what each addition lost, so that a million samples are as good as ten. */
function meanOf(list: Float64Array): number {
  let [total, lost] = [0, 0];
  for (const x of list) {
    const [next, rest] = sum(total, x);
    total = next;
    lost += rest;
  }
  return (total + lost) / list.length;
}
