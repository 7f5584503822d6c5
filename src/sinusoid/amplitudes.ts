import { atLeast, fail, nameIn, object } from "../base/check.js";

/** The shapes whose amplitudes are known in closed form; all are symmetric about zero except the rectified ones. */
export type Shape = "sine" | "square" | "triangle" | "sawtooth" | "half-wave" | "full-wave";

/** One amplitude of a wave; the others follow from its shape. */
export type KnownAmplitude =
  | { readonly rms: number; readonly peak?: never; readonly peakToPeak?: never; readonly averageRectified?: never }
  | { readonly peak: number; readonly rms?: never; readonly peakToPeak?: never; readonly averageRectified?: never }
  | { readonly peakToPeak: number; readonly rms?: never; readonly peak?: never; readonly averageRectified?: never }
  | { readonly averageRectified: number; readonly rms?: never; readonly peak?: never; readonly peakToPeak?: never };

/** All amplitudes of a wave, in the unit of the given one. */
export interface Amplitudes {
  readonly rms: number;
  readonly peak: number;
  readonly peakToPeak: number;
  /** The mean of the magnitude over a whole cycle. */
  readonly averageRectified: number;
  /** peak / rms */
  readonly crestFactor: number;
  /** rms / averageRectified */
  readonly formFactor: number;
}

/** Each amplitude over the peak. */
interface PerPeak {
  readonly rms: number;
  readonly averageRectified: number;
  readonly peakToPeak: 1 | 2;
  readonly crestFactor: number;
  readonly formFactor: number;
}

/** Of a sine: rms over the mean of the magnitude. */
export const SINE_FORM_FACTOR = 1.1107207345395915; // π/(2√2)
const TRIANGLE: PerPeak = {
  rms: 0.5773502691896257, // 1/√3
  averageRectified: 0.5,
  peakToPeak: 2,
  crestFactor: 1.7320508075688772, // √3
  formFactor: 1.1547005383792515, // 2/√3
};

const PER_PEAK: Readonly<Record<Shape, PerPeak>> = {
  sine: {
    rms: Math.SQRT1_2,
    averageRectified: 0.6366197723675814, // 2/π
    peakToPeak: 2,
    crestFactor: Math.SQRT2,
    formFactor: SINE_FORM_FACTOR,
  },
  square: { rms: 1, averageRectified: 1, peakToPeak: 2, crestFactor: 1, formFactor: 1 },
  triangle: TRIANGLE,
  sawtooth: TRIANGLE,
  "half-wave": {
    rms: 0.5,
    averageRectified: 0.3183098861837907, // 1/π
    peakToPeak: 1,
    crestFactor: 2,
    formFactor: 1.5707963267948966, // π/2
  },
  "full-wave": {
    rms: Math.SQRT1_2,
    averageRectified: 0.6366197723675814,
    peakToPeak: 1,
    crestFactor: Math.SQRT2,
    formFactor: SINE_FORM_FACTOR,
  },
};

/**
 * Converts among rms, peak, peak-to-peak and average-rectified amplitudes of a wave of known shape.
 *
 *     sine: peak = √2 · rms, peak-to-peak = 2√2 · rms, average-rectified = (2√2/π) · rms
 *
 * @param known - One amplitude, 0 or more, in any unit; the answer is in the same.
 * @param shape - Default `"sine"`. The rectified shapes swing from 0 to the peak.
 * @throws A {@link InputError} for a negative or non-finite amplitude, none or several amplitudes, an unknown shape.
 * Accuracy: within 2 units in the last place; the given amplitude comes back as given.
 * @source closed forms in every textbook on AC circuits
 *
 * @example
 * import { amplitudes } from "tripwright/sinusoid";
 * amplitudes({ rms: 120 }).peak; // → 169.70562748477143
 * amplitudes({ rms: 120 }).peakToPeak; // → 339.41125496954286
 * amplitudes({ peak: 10 }, "half-wave").rms; // → 5
 */
export function amplitudes(known: KnownAmplitude, shape: Shape = "sine"): Amplitudes {
  const perPeak = PER_PEAK[nameIn(shape, PER_PEAK, "shape")];
  const { crestFactor, formFactor } = perPeak;
  const [name, value] = theOneGiven(known);
  const { rms, peak, averageRectified } = FROM[name](value, perPeak);
  const peakToPeak = peak * perPeak.peakToPeak;
  if (!Number.isFinite(peakToPeak)) fail("out-of-range", name, "an amplitude within the range of a double", value);
  return { rms, peak, peakToPeak, averageRectified, crestFactor, formFactor, [name]: value };
}

type Derived = Pick<Amplitudes, "rms" | "peak" | "averageRectified">;

/** Each amplitude from the given one by a single constant, so that it rounds once. */
const FROM: Readonly<Record<Name, (value: number, perPeak: PerPeak) => Derived>> = {
  rms: (rms, { crestFactor, formFactor }) => ({ rms, peak: rms * crestFactor, averageRectified: rms / formFactor }),
  peak: fromPeak,
  peakToPeak: (swing, perPeak) => fromPeak(swing / perPeak.peakToPeak, perPeak),
  averageRectified: (average, perPeak) => ({
    rms: average * perPeak.formFactor,
    peak: average / perPeak.averageRectified,
    averageRectified: average,
  }),
};

function fromPeak(peak: number, perPeak: PerPeak): Derived {
  return { rms: peak * perPeak.rms, peak, averageRectified: peak * perPeak.averageRectified };
}

const NAMES = { rms: 0, peak: 0, peakToPeak: 0, averageRectified: 0 };
type Name = keyof typeof NAMES;

function theOneGiven(known: KnownAmplitude): readonly [Name, number] {
  const entries = Object.entries(object(known, "", "one of { rms }, { peak }, { peakToPeak }, { averageRectified }"));
  const [first, second] = entries.filter(([, value]) => value !== undefined);
  if (first === undefined) return fail("missing", "", "one of rms, peak, peakToPeak, averageRectified", known);
  if (second !== undefined) return fail("conflict", second[0], `nothing beside ${first[0]}`, second[1]);
  const name = nameIn(first[0], NAMES, "");
  return [name, atLeast(first[1], 0, name, "an amplitude")];
}
