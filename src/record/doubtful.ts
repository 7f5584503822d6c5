/** What can hardly have been so: it is judged as it was written down, and named beside its verdict. */
import type { Band } from "../base/band.js";
import { signedAngle } from "../base/degrees.js";
import type { Problem } from "../base/problem.js";
import { clockState } from "../base/states.js";
import { plain, written } from "../base/written.js";
import { definitionOf, standingAt } from "../element/index.js";
import type { Check } from "../plan/index.js";
import type { Case } from "./case.js";
import type { Reading } from "./reading.js";

type Around = Pick<Case, "check" | "setting" | "settings">;

/** What was wanted, and what came instead. */
type Doubt = Pick<Problem, "expected" | "received">;

/**
 * A level beyond the sweep in which it was found, a time longer than the injection lasts, an injected level that the source cannot
 * make or that is the planned one on the primary side. Nothing is converted.
 *
 * @param accepted - The band that the reading is held against, where there is one.
 */
export function doubtsOf(reading: Reading, around: Around, accepted?: Band): Doubt[] {
  const doubts = [
    beyondSweep(reading, around.check),
    beyondInjection(reading, around.check, accepted),
    asPrimary(reading, around.check) ?? beyondSource(reading, around),
  ];
  return doubts.filter((doubt) => doubt !== undefined);
}

const primaryInWords = (level: number, { toPrimary = 1, unit }: Check): string =>
  `; as a primary value it would be ${written(plain(level / toPrimary, 4), unit)}`;

/** One step further than the sweep goes; a meter may show so much more. */
function beyondSweep({ value }: Reading, check: Check): Doubt | undefined {
  const { sweep, unit, toPrimary } = check;
  if (sweep === undefined || typeof value !== "number") return undefined;
  const { from, to, step } = sweep;
  const [middle, reach] = [(from + to) / 2, Math.abs(to - from) / 2 + step];
  const isInside = (level: number) => {
    const away = level - middle;
    return Math.abs(unit === "°" ? signedAngle(away) : away) <= reach;
  };
  if (isInside(value)) return undefined;
  const isPrimary = toPrimary !== undefined && isInside(value / toPrimary);
  return {
    expected: `a level within the sweep ${plain(from, 4)} to ${written(plain(to, 4), unit)}${toPrimary === undefined ? "" : " (secondary)"}`,
    received: `${written(value, unit)}${isPrimary ? primaryInWords(value, check) : ""}`,
  };
}

/** Nearer to the setting than planned it was injected for as long as it may take there. */
function beyondInjection({ value }: Reading, { sweep, timeline }: Check, accepted: Band | undefined) {
  const planned = clockState(timeline)?.duration;
  if (sweep !== undefined || planned === undefined || typeof value !== "number") return undefined;
  const longest = Math.max(planned, accepted?.high ?? 0);
  if (value <= longest) return undefined;
  return { expected: `a time within the ${plain(longest, 4)} s that are injected`, received: written(value, "s") };
}

/** So much more or less than planned is no longer about the planned level. */
const ABOUT = 1.5;

function asPrimary({ injected }: Reading, check: Check): Doubt | undefined {
  const { level = 0, toPrimary = 1, unit } = check;
  if (injected === undefined || level <= 0) return undefined;
  const isAbout = (x: number) => x < level * ABOUT && x > level / ABOUT;
  if (isAbout(injected) || !isAbout(injected / toPrimary)) return undefined;
  return {
    expected: `a level about the planned ${written(plain(level, 4), unit)} (secondary)`,
    received: `${written(injected, unit)} injected${primaryInWords(injected, check)}`,
  };
}

/** The largest value on any channel against what the source makes on one. */
function beyondSource({ injected }: Reading, { check, setting, settings }: Around): Doubt | undefined {
  if (injected === undefined) return undefined;
  const { id, unit } = check;
  const { pose, stills } = definitionOf(setting.function);
  const still = stills?.(setting, settings.setup).find(({ name }) => id === `${setting.id}/quiet@${name}`);
  const posed = still?.pose ?? pose(setting, settings.setup);
  if (posed.kind === "none") return undefined;
  const { sourceLimits } = settings;
  for (const [name, { rms }] of Object.entries(standingAt(posed, injected))) {
    const quantity = posed.wiring[name]?.quantity ?? "current";
    const most = sourceLimits[quantity]?.rms;
    if (most === undefined || rms <= most * (1 + 1e-9)) continue;
    const own = quantity === "voltage" ? "V" : "A";
    const needed =
      rms === injected && own === unit ? "" : `, which needs ${written(plain(rms, 4), own)} on one channel`;
    return {
      expected: `a level that the source can make, at most ${written(plain(most, 4), own)} on one channel`,
      received: `${written(injected, unit)} injected${needed}`,
    };
  }
  return undefined;
}
