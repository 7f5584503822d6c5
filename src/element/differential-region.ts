/** Where a restrained differential function operates, and where one side alone starts it. */
import {
  type Above,
  differentialPoint,
  differentialRegion,
  type Point,
  type RestraintSlope,
} from "../characteristic/index.js";
import type { DifferentialSetting } from "./setting.js";

/**
 * The region in which it operates. A relay whose pickup is off, and swallows its first slope, goes on with the second where
 * it would have begun.
 */
export function regionOf({ pickup, slopes }: Pick<DifferentialSetting, "pickup" | "slopes">): Above {
  const [one, two] = slopes;
  const begun = one?.line === "through-origin" && one.begins === undefined ? pickup / one.slope : 0;
  if (two?.begins === undefined || two.begins >= begun) return differentialRegion({ pickup, slopes });
  return differentialRegion({ pickup, slopes: [one as RestraintSlope, { ...two, begins: begun }] });
}

/** What one ampere of one side alone restrains. */
export const restraintAlone = ({ restraint }: Pick<DifferentialSetting, "restraint">): number =>
  differentialPoint(
    [
      { re: 1, im: 0 },
      { re: 0, im: 0 },
    ],
    restraint,
  ).x;

/**
 * The current of one side alone at which it starts: the pickup, or more where a slope has begun by then. Nothing where a
 * slope is so steep that its own restraint always outweighs it.
 */
export function startsAlone(setting: DifferentialSetting, region: Above = regionOf(setting)): number | undefined {
  const alone = restraintAlone(setting);
  const points: readonly Point[] = [{ x: 0, y: setting.pickup }, ...region.points];
  for (const [i, from] of points.entries()) {
    const to = points[i + 1];
    // A step upward: nothing starts on it.
    if (to?.x === from.x) continue;
    const slope = to === undefined ? region.slope : (to.y - from.y) / (to.x - from.x);
    if (slope * alone >= 1) continue;
    const current = (from.y - slope * from.x) / (1 - slope * alone);
    if (current * alone >= from.x && (to === undefined || current * alone <= to.x)) return current;
  }
  return undefined;
}
