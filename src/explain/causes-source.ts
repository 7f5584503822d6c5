/** Causes outside the relay: what the source puts out and the meter shows. */
import type { Wiring } from "../base/sequence.js";
import type { LevelUnit } from "../element/index.js";
import { meterReading, type Shape } from "../sinusoid/index.js";
import { eachLead, unitOf } from "./changed.js";
import { inWords } from "./in-words.js";
import type { Cause, Situation, Way } from "./situation.js";
import type { Taken } from "./taken.js";

const isAmplitude = (unit: LevelUnit): boolean => unit === "A" || unit === "V";

/** An edge stands on several currents: what restrains is off with what operates, and the edge moves along the line of both. */
const isOnSeveral = ({ check: { proves }, setting }: Taken): boolean => proves === "edge" && "restraint" in setting;

/** Every channel puts out `factor` times less. */
const putsOutLess = (wiring: Wiring, factor: number): Wiring => eachLead(wiring, (input, fed) => [input, fed / factor]);

/** What is written is `factor` times what the relay sees, for all elements that see the same quantity. */
function writtenAs(factor: number, unit: LevelUnit): Partial<Situation> {
  const own = ({ setting }: Taken) => unitOf(setting) === unit;
  const asLevel = (taken: Taken) => own(taken) && !isOnSeveral(taken);
  return {
    wired: (wiring, taken) => (own(taken) && isOnSeveral(taken) ? putsOutLess(wiring, factor) : wiring),
    seen: (level, taken) => (asLevel(taken) ? level / factor : level),
    levelWritten: (quantity, taken) => (asLevel(taken) ? quantity * factor : quantity),
  };
}

const ROOT2 = Math.SQRT2;
const AMPLITUDES: readonly (readonly [which: string, factor: number, says: string])[] = [
  ["peak", ROOT2, "What is written may be the peak value, where the rms value belongs."],
  ["peak to peak", 2 * ROOT2, "What is written may be the peak-to-peak value, where the rms value belongs."],
  ["rms for peak", 1 / ROOT2, "An rms value may have been taken for a peak value, and divided by √2."],
  [
    "rms for peak to peak",
    0.5 / ROOT2,
    "An rms value may have been taken for a peak-to-peak value, and divided by 2√2.",
  ],
];

export const peakForRms: Cause = {
  name: "peak-for-rms",
  touches: "relay",
  lookAt: "See whether the instrument shows rms, peak or peak to peak, and what the source's display means.",
  ways: ({ setting }): Way[] => {
    const unit = unitOf(setting);
    if (!isAmplitude(unit)) return [];
    return AMPLITUDES.map(([which, factor, says]) => ({
      which,
      differs: () => writtenAs(factor, unit),
      says: () => says,
    }));
  },
};

/** Waves as sources make them when they are clipped or distort towards a peak. */
const SHAPES: readonly Shape[] = ["square", "triangle"];

export const averageMeter: Cause = {
  name: "average-meter",
  touches: "relay",
  lookAt: "Look at the wave on an oscilloscope, and at the meter: does it show true rms? Is the source at its limit?",
  ways: ({ setting }): Way[] => {
    const unit = unitOf(setting);
    if (!isAmplitude(unit)) return [];
    return SHAPES.map((shape) => {
      const shows = meterReading({ rms: 1, shape }, "average-responding");
      return {
        which: shape,
        differs: () => writtenAs(shows, unit),
        says: () =>
          `A meter that responds to the average may have read a wave like a ${shape} one: it shows ${inWords(shows)} times the rms value.`,
      };
    });
  },
};

const MOST_GAIN = 1.25;

export const sourceGain: Cause = {
  name: "source-gain",
  touches: "relay",
  lookAt: "Measure what the source puts out on an independent meter, at two levels.",
  ways: ({ setting }): Way[] => {
    const unit = unitOf(setting);
    if (!isAmplitude(unit)) return [];
    return [
      {
        free: { name: "source gain", unit: "1", from: 1 / MOST_GAIN, to: MOST_GAIN },
        differs: (x) => writtenAs(1 / x, unit),
        says: (x) => `The source may put out ${inWords(x)} times what is written.`,
      },
    ];
  },
};

export const sourceOffset: Cause = {
  name: "source-offset",
  touches: "relay",
  lookAt: "Measure what the source puts out on an independent meter, at two levels, and with its output at zero.",
  ways: ({ setting }): Way[] => {
    const unit = unitOf(setting);
    const own = (taken: Taken) => unitOf(taken.setting) === unit;
    const most = (unit === "Hz" ? 0.02 : 0.3) * setting.pickup;
    return [
      {
        free: { name: "source offset", unit, from: -most, to: most },
        differs: (x) => ({
          seen: (level, taken) => (own(taken) ? level + x : level),
          levelWritten: (quantity, taken) => (own(taken) ? quantity - x : quantity),
        }),
        says: (x) =>
          `The source may put out ${inWords(Math.abs(x), unit)} ${x > 0 ? "more" : "less"} than is written, at every level.`,
      },
    ];
  },
};

export const rampTooFast: Cause = {
  name: "ramp-too-fast",
  touches: "element",
  lookAt: "See how fast the level was moved: each step has to be held for longer than the element takes to answer.",
  ways: ({ setting }): Way[] => {
    const unit = unitOf(setting);
    const most = (unit === "Hz" ? 0.02 : 0.3) * setting.pickup;
    return [
      {
        free: { name: "overrun", unit, from: 0, to: most },
        differs: (x) => ({
          levelWritten: (quantity, { check: { sweep } }) =>
            sweep === undefined ? quantity : quantity + x * Math.sign(sweep.to - sweep.from),
        }),
        says: (x) => `The level may have moved on by ${inWords(x, unit)} before the contact answered.`,
      },
    ];
  },
};

export const drift: Cause = {
  name: "drift",
  touches: "element",
  lookAt:
    "See whether the readings go one way from repeat to repeat; let the relay and its inputs cool and read again.",
  ways: (): Way[] => {
    const grown = (x: number, { key }: Taken) => 1 + x * (key.repeat - 1);
    return [
      {
        free: { name: "drift a repeat", unit: "1", from: -0.1, to: 0.1 },
        differs: (x) => ({
          levelWritten: (quantity, taken) => quantity * grown(x, taken),
          contactTime: (time, taken) => time * grown(x, taken),
        }),
        says: (x) =>
          `Readings may drift by ${inWords(100 * x)} % from repeat to repeat, as they do where something heats.`,
      },
    ];
  },
};
