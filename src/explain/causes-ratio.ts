/** Causes between the system and the relay: ratios, taps, sides and conventions of instrument transformers. */
import type { ElementSetting } from "../element/index.js";
import { unitOf } from "./changed.js";
import { inWords } from "./in-words.js";
import type { Cause, Way } from "./situation.js";

/** The pickup of the relay's own elements times a factor, of those that `counts`. */
const scaled =
  (factor: number, counts: (setting: ElementSetting) => boolean = () => true) =>
  () => ({
    setting: (asOnSheet: ElementSetting) =>
      counts(asOnSheet) ? { ...asOnSheet, pickup: asOnSheet.pickup * factor } : asOnSheet,
  });

/** Elements behind the current transformers of the phases. */
const behindPhaseCt = (setting: ElementSetting): boolean => unitOf(setting) === "A" && setting.watches !== "ground";

export const ctSecondary: Cause = {
  name: "ct-secondary",
  touches: "relay",
  lookAt:
    "Compare the rated secondary current on the sheet with the relay's setting, its terminals and the nameplate of the current transformers.",
  ways: ({ setting, settings: { setup } }): Way[] => {
    const { ratedCurrent } = setup;
    if (!behindPhaseCt(setting) || (ratedCurrent !== 1 && ratedCurrent !== 5)) return [];
    const other = ratedCurrent === 5 ? 1 : 5;
    return [
      {
        differs: scaled(other / ratedCurrent, behindPhaseCt),
        says: () => `The relay may be set or wired for ${other} A, where the sheet says ${ratedCurrent} A.`,
      },
    ];
  },
};

/** Primary currents of neighbouring taps over each other (common practice). */
const TAPS = [1 / 2, 2 / 3, 3 / 4, 4 / 3, 3 / 2, 2];

export const ctTap: Cause = {
  name: "ct-tap",
  touches: "relay",
  lookAt: "Compare the ratio that the relay was told with the tap in use.",
  ways: ({ setting, settings: { toPrimary } }): Way[] =>
    behindPhaseCt(setting) && toPrimary[setting.id] !== undefined
      ? TAPS.map((tap) => ({
          which: `${inWords(tap)} × the ratio`,
          differs: scaled(1 / tap, behindPhaseCt),
          says: () =>
            `The relay may have been told a current transformer of ${inWords(tap)} times the ratio of the sheet.`,
        }))
      : [],
};

export const primaryForSecondary: Cause = {
  name: "primary-for-secondary",
  touches: "element",
  lookAt: "Check on which side of the transformers the setting is written, on the sheet and in the relay.",
  ways: ({ setting, settings: { toPrimary } }): Way[] => {
    const ratio = toPrimary[setting.id];
    if (ratio === undefined || ratio === 1) return [];
    return [
      {
        which: "primary entered",
        differs: scaled(ratio),
        says: () => "The primary value of the pickup may have been entered where the relay takes a secondary one.",
      },
      {
        which: "secondary entered",
        differs: scaled(1 / ratio),
        says: () => "The secondary value of the pickup may have been entered where the relay takes a primary one.",
      },
    ];
  },
};

export const lineToLine: Cause = {
  name: "line-to-line",
  touches: "element",
  lookAt:
    "Check whether the setting and the reading are line to line or line to neutral, and where the meter is connected.",
  ways: ({ setting }): Way[] =>
    setting.watches === "line-to-line" || setting.watches === "line-to-neutral"
      ? [
          {
            which: "higher",
            differs: scaled(Math.sqrt(3)),
            says: () => "A line-to-line voltage may stand where one to neutral belongs: the relay starts at √3 times.",
          },
          {
            which: "lower",
            differs: scaled(1 / Math.sqrt(3)),
            says: () => "A voltage to neutral may stand where one line to line belongs: the relay starts at 1/√3.",
          },
        ]
      : [],
};
