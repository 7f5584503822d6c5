/** Where a restrained differential function operates, and where one side alone starts it. */
import {
  type Above,
  differentialPoint,
  differentialRegion,
  type Point,
  type RestraintSlope,
} from "../characteristic/index.js";
import type { DifferentialSetting } from "./setting.js";

type Line = Pick<DifferentialSetting, "pickup" | "slopes">;

/** Where a first slope through the origin passes the pickup; 0 where the first slope is another. */
export const passesPickup = ({ pickup, slopes: [one] }: Line): number =>
  one?.line === "through-origin" ? pickup / one.slope : 0;

/**
 * The region in which it operates. A pickup that swallows the first slope, as that of a relay that is off may do, goes on with
 * the second slope where the first would have begun.
 */
export function regionOf({ pickup, slopes }: Line): Above {
  const [one, two] = slopes;
  const begun = passesPickup({ pickup, slopes });
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
    // Nothing starts on a step, and two points at one place have no slope.
    if (to?.x === from.x) continue;
    const slope = to === undefined ? region.slope : (to.y - from.y) / (to.x - from.x);
    if (slope * alone >= 1) continue;
    const current = (from.y - slope * from.x) / (1 - slope * alone);
    if (current * alone >= from.x && (to === undefined || current * alone <= to.x)) return current;
  }
  return undefined;
}
