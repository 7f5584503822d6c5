/** Causes in how a directional element is set. */
import { cosDegrees } from "../base/degrees.js";
import { changed } from "./changed.js";
import { inWords, signed } from "./in-words.js";
import type { Cause, Way } from "./situation.js";

const OPPOSITE = { forward: "reverse", reverse: "forward" } as const;

export const directionSetting: Cause = {
  name: "direction-setting",
  touches: "element",
  lookAt: "Read which way the relay's element looks, and what the relay takes for forward.",
  ways: ({ setting }): Way[] =>
    "operates" in setting
      ? [
          {
            differs: () => changed({ operates: OPPOSITE[setting.operates] }),
            says: () => `The element may look ${OPPOSITE[setting.operates]}, where the sheet says ${setting.operates}.`,
          },
        ]
      : [],
};

export const characteristicAngle: Cause = {
  name: "characteristic-angle",
  touches: "element",
  lookAt:
    "Read the characteristic angle as the relay holds it, with its sign: of the current to the voltage, or of the voltage to the current.",
  ways: ({ setting }): Way[] => {
    if (!("characteristicAngle" in setting)) return [];
    const { characteristicAngle: angle } = setting;
    return [
      {
        free: { name: "characteristic angle", unit: "°", from: angle - 180, to: angle + 180, turns: true },
        differs: (x) => {
          // What is injected along the angle of the sheet counts with its part along that of the relay.
          const part = setting.measures === "current-cosine" ? Math.max(0, cosDegrees(x - angle)) : 1;
          return {
            ...changed({ characteristicAngle: x }),
            seen: (level) => level * part,
            levelWritten: (quantity) => quantity / part,
          };
        },
        says: (x) =>
          `The characteristic angle may be set to ${inWords(signed(x), "°")}, where the sheet says ${inWords(angle, "°")}.`,
      },
    ];
  },
};

/** What a directional element has where nothing is set, and the most that may be set, on each side. */
const SECTOR = { usual: 90, most: 170 } as const;

export const sectorLimit: Cause = {
  name: "sector-limit",
  touches: "element",
  lookAt: "Read how far the relay lets the current lead and lag the characteristic angle.",
  ways: ({ setting }): Way[] => {
    if (!("characteristicAngle" in setting)) return [];
    return (["leading", "lagging"] as const).map((side) => ({
      which: side,
      free: { name: `${side} limit`, unit: "°", from: 1, to: SECTOR.most },
      differs: (x) => changed({ [side]: x }),
      says: (x) =>
        `The ${side} limit may be set to ${inWords(x, "°")}, where the sheet says ${inWords(setting[side] ?? SECTOR.usual, "°")}.`,
    }));
  },
};
