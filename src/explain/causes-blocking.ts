/** Causes in what keeps a function quiet beside its pickup: the level below which it is blocked, the one that arms it. */
import { definitionOf } from "../element/index.js";
import type { RelaySettings } from "../plan/index.js";
import { changed } from "./changed.js";
import { inWords } from "./in-words.js";
import type { Cause, Suspect, Way } from "./situation.js";

/** How the sheet is quoted, also where it says nothing; a sheet in primary values says something else than the relay has. */
function onSheet(level: number | undefined, unit: string, { writtenIn }: RelaySettings): string {
  if (level === undefined) return "where the sheet names no such level";
  return writtenIn === "primary"
    ? `where the sheet comes to ${inWords(level, unit)} at the relay`
    : `where the sheet says ${inWords(level, unit)}`;
}

/** A level that blocks: what the settings call it, what the sheet says, and up to where it is looked for. */
interface Blocking {
  readonly field: "blockBelow" | "minimumVoltage";
  readonly level: number | undefined;
  readonly unit: "A" | "V";
  readonly most: number;
}

/**
 * Up to so many times the pickup a blocking level is searched for. The middle of the range is one of the places looked at;
 * it lies just inside the pickup, where every injection is blocked but the start itself.
 */
const TWICE = 1.998;

function blockingOf({ setting, settings: { setup } }: Suspect): Blocking | undefined {
  const { ratedVoltage = 0 } = setup;
  switch (setting.function) {
    case "27":
      return { field: "blockBelow", level: setting.blockBelow, unit: "V", most: TWICE * setting.pickup };
    case "37":
      return { field: "blockBelow", level: setting.blockBelow, unit: "A", most: TWICE * setting.pickup };
    case "81O":
    case "81U":
    case "81R":
      return { field: "blockBelow", level: setting.blockBelow, unit: "V", most: 2 * ratedVoltage };
    case "67":
    case "67N":
      return { field: "minimumVoltage", level: setting.minimumVoltage, unit: "V", most: 2 * ratedVoltage };
    // An overvoltage function would have to be blocked above its own setting.
    default:
      return undefined;
  }
}

export const blockingLevel: Cause = {
  name: "blocking-level",
  touches: "element",
  lookAt:
    "Read below which voltage or current the relay blocks the function, also in its other setting groups, and whether an input blocks it.",
  ways: (suspect): Way[] => {
    const blocking = blockingOf(suspect);
    if (blocking === undefined) return [];
    const { field, level, unit, most } = blocking;
    const says = (x: number): string => {
      if (x === most) return "The function may be blocked at every level at which it should have operated";
      if (x === 0) return "The function may not be blocked at any level that was injected";
      return `The function may be blocked below about ${inWords(x, unit)}`;
    };
    return [
      {
        free: { name: "blocked below", unit, from: 0, to: most },
        differs: (x) => changed({ [field]: x }),
        says: (x) => `${says(x)}, ${onSheet(level, unit, suspect.settings)}.`,
      },
    ];
  },
};

/** How far above the healthy system a level is looked for that nothing reaches. */
const BEYOND_HEALTHY = 1.2;

export const armingLevel: Cause = {
  name: "arming-level",
  touches: "element",
  lookAt: "Read above which voltage or current the relay arms the function, and what it saw before the injection.",
  ways: ({ setting, settings }): Way[] => {
    const { setup } = settings;
    if (setting.function !== "27" && setting.function !== "37") return [];
    const { unit, healthyLevel } = definitionOf(setting.function);
    const { armAbove } = setting;
    const most = BEYOND_HEALTHY * Math.max(armAbove ?? 0, healthyLevel(setting as never, setup));
    return [
      {
        free: { name: "armed above", unit, from: 0, to: most },
        differs: (x) => changed({ armAbove: x }),
        says: (x) => {
          const seen = x === most ? "more than was injected" : `more than about ${inWords(x, unit)}`;
          return `The function may wait until it has seen ${seen}, ${onSheet(armAbove, unit, settings)}.`;
        },
      },
    ];
  },
};
