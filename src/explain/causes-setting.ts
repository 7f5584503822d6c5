/** Causes inside the relay: a setting that is not what the sheet says. */
import { curveNames, curveSide, standardCurve } from "../curve/index.js";
import { definitionOf, type ElementSetting } from "../element/index.js";
import { changed, changedLaw } from "./changed.js";
import { inWords, levelWords } from "./in-words.js";
import type { Cause, Suspect, Way } from "./situation.js";

const formOf = ({ law: { curve } }: ElementSetting) =>
  typeof curve === "string" ? standardCurve(curve).form : curve.form;

const isInverse = (setting: ElementSetting): boolean => formOf(setting) !== "definite";

export const pickupSetting: Cause = {
  name: "pickup-setting",
  touches: "element",
  lookAt:
    "Read the pickup as the relay holds it, with its unit and the side of the transformers that it is written on.",
  ways: ({ setting: { id, function: name, pickup, step }, settings }) => {
    const { unit } = definitionOf(name);
    const { atRelay, onSheet } = levelWords(unit, settings, id);
    // Nobody mistakes 50 Hz for 5; amperes and volts are mistaken by a ratio of transformers.
    const [from, to] = unit === "Hz" ? [0.9 * pickup, 1.1 * pickup] : [pickup / 200, 200 * pickup];
    return [
      {
        free: { name: "pickup", unit, from, to, around: pickup, ...(step !== undefined && { step }) },
        differs: (x) => changed({ pickup: x }),
        says: (x) =>
          x === from || x === to
            ? `The pickup may be set ${x === to ? "above" : "below"} every level that was injected.`
            : `The pickup may be set to ${atRelay(x)}, ${onSheet(pickup)}.`,
      },
    ];
  },
};

/** How far from its start a function may be set to let go, as a ratio on each side, and over a difference on the sheet. */
const DROPOUT = { over: [0.2, 0.999], under: [1.001, 2], difference: [1 / 20, 20] } as const;

const FARTHER = "The function may let go farther back than the level was brought";

export const dropoutSetting: Cause = {
  name: "dropout-setting",
  touches: "element",
  lookAt: "Read the dropout ratio, or the hysteresis, as the relay holds it, and how it counts it.",
  ways: ({ setting, settings }) => {
    const { side, unit, practice } = definitionOf(setting.function);
    const usual = setting.dropout ?? practice.dropout;
    const where = setting.dropout === undefined ? "where the sheet names none and usual is" : "where the sheet says";
    if ("ratio" in usual) {
      const [from, to] = DROPOUT[side];
      return [
        {
          free: { name: "dropout ratio", unit: "1", from, to },
          differs: (ratio) => changed({ dropout: { ratio } }),
          says: (x) =>
            x === (side === "over" ? from : to)
              ? `${FARTHER}, ${where} ${inWords(usual.ratio)} times its start.`
              : `The function may let go at ${inWords(x)} times its start, ${where} ${inWords(usual.ratio)}.`,
        },
      ];
    }
    const { difference } = usual;
    const { atRelay, onSheet } = levelWords(unit, settings, setting.id);
    const whereElse = setting.dropout === undefined ? `${where} ${inWords(difference, unit)}` : onSheet(difference);
    const [least, most] = DROPOUT.difference;
    return [
      {
        free: {
          name: "dropout difference",
          unit,
          from: least * difference,
          to: most * difference,
          around: difference,
        },
        differs: (x) => changed({ dropout: { difference: x } }),
        says: (x) =>
          x === most * difference
            ? `${FARTHER}, ${whereElse} from its start.`
            : `The function may let go ${atRelay(x)} from its start, ${whereElse}.`,
      },
    ];
  },
};

/** Steps in which relays commonly take multipliers and delays (common practice). */
const MULTIPLIER_STEP = 0.005;
const DELAY_STEP = 0.01;

/** What scales all times of an element on its sheet: a multiplier, or the time constant of an image that has none. */
function timeScale({ law: { curve, multiplier } }: ElementSetting) {
  const says = (value: number, unit?: string) => `where the sheet says ${inWords(value, unit)}`;
  if (multiplier !== undefined)
    return { what: "time multiplier", at: (x: number) => inWords(x), onSheet: says(multiplier) };
  if (typeof curve === "object" && curve.form === "thermal")
    return { what: "time constant", at: (x: number) => inWords(x * curve.tau, "s"), onSheet: says(curve.tau, "s") };
  return { what: "time multiplier", at: (x: number) => inWords(x), onSheet: "where the sheet names none" };
}

export const timeMultiplier: Cause = {
  name: "time-multiplier",
  touches: "element",
  lookAt: "Read the time multiplier as the relay holds it, also in its other setting groups.",
  ways: ({ setting }) => {
    const { multiplier = 1 } = setting.law;
    if (!isInverse(setting)) return [];
    const { what, at, onSheet } = timeScale(setting);
    return [
      {
        free: {
          name: "time multiplier",
          unit: "1",
          from: multiplier / 20,
          to: 20 * multiplier,
          around: multiplier,
          step: MULTIPLIER_STEP,
        },
        differs: (x) => changedLaw({ multiplier: x }),
        says: (x) =>
          x === 20 * multiplier
            ? `The ${what} may be set so high that nothing operated, ${onSheet}.`
            : `The ${what} may be set to ${at(x)}, ${onSheet}.`,
      },
    ];
  },
};

export const delaySetting: Cause = {
  name: "delay-setting",
  touches: "element",
  lookAt: "Read the time delay as the relay holds it, with its unit, also in its other setting groups.",
  ways: ({ setting: { law } }) => {
    const { curve } = law;
    if (typeof curve === "string" || curve.form !== "definite") return [];
    // Farther than any time that is read where cycles were taken for seconds, or the clock started early.
    const longest = 10 * curve.time + 10;
    return [
      {
        free: { name: "delay", unit: "s", from: 0, to: longest, step: DELAY_STEP },
        differs: (x) => changedLaw({ curve: { ...curve, time: x } }),
        says: (x) =>
          x === longest
            ? `The delay may be set longer than was waited, where the sheet says ${inWords(curve.time, "s")}.`
            : `The delay may be set to ${inWords(x, "s")}, where the sheet says ${inWords(curve.time, "s")}.`,
      },
    ];
  },
};

export const anotherCurve: Cause = {
  name: "another-curve",
  touches: "element",
  lookAt: "Read which characteristic is selected in the relay.",
  ways: ({ setting }): Way[] => {
    const { curve } = setting.law;
    const own = definitionOf(setting.function);
    if (!isInverse(setting) || !own.laws.includes("inverse")) return [];
    const side = curveSide(curve);
    return curveNames
      .filter((name) => name !== curve && curveSide(name) === side && own.laws.includes(standardCurve(name).form))
      .filter((name) => own.unit === "V" || !name.includes("voltage"))
      .map((name) => ({
        which: name,
        differs: () => changedLaw({ curve: name }),
        says: () => `The curve may be ${name}, where the sheet says ${typeof curve === "string" ? curve : "another"}.`,
      }));
  },
};

const isFlattened = ({ setting }: Suspect): boolean => isInverse(setting) && formOf(setting) === "inverse";

export const ceiling: Cause = {
  name: "ceiling",
  touches: "element",
  lookAt: "Look in the relay's description for the multiple above which its curve goes flat.",
  ways: (suspect) =>
    isFlattened(suspect)
      ? [
          {
            free: { name: "ceiling", unit: "× the setting", from: 1.5, to: 30 },
            differs: (x) => changedLaw({ ceilingMultiple: x }),
            says: (x) => `The curve may go flat above ${inWords(x)} × the setting.`,
          },
        ]
      : [],
};

export const minimumTime: Cause = {
  name: "minimum-time",
  touches: "element",
  lookAt: "Look for a minimum operate time among the settings, and in the relay's description.",
  ways: (suspect) =>
    isFlattened(suspect)
      ? [
          {
            free: { name: "minimum time", unit: "s", from: 0, to: 5, step: DELAY_STEP },
            differs: (x) => changedLaw({ minimumTime: x }),
            says: (x) => `A minimum operate time of ${inWords(x, "s")} may be in play.`,
          },
        ]
      : [],
};
