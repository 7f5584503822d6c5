/** Where the boundary of a distance zone is looked for, and where it has to stay quiet. */
import { atan2Degrees } from "../base/degrees.js";
import type { Degrees } from "../base/units.js";
import { plain } from "../base/written.js";
import type { Loop, Polygon } from "../characteristic/index.js";
import type { Edge, Still } from "./definition.js";
import { isToEarth, loopsOf } from "./distance-loops.js";
import { angleFromZero, poseAlong, poseAround } from "./distance-pose.js";
import { distanceZone, reachAlong, reachAngle } from "./distance-zone.js";
import type { DistanceSetting } from "./setting.js";
import type { Setup } from "./setup.js";

/** What can be set on a source, and read on a card. */
const settable = (x: number): number => Number(x.toPrecision(6));

/** The first loop of each kind. */
const firstLoops = (setting: DistanceSetting): Loop[] =>
  [loopsOf(setting).find((loop) => !isToEarth(loop)), loopsOf(setting).find(isToEarth)].filter(
    (loop) => loop !== undefined,
  );

/** The other loops on the line angle, and the first of each kind at further angles. */
export function edges(setting: DistanceSetting, setup: Setup): Edge[] {
  const [, ...others] = loopsOf(setting);
  const line = reachAngle(setting);
  const further = firstLoops(setting).flatMap((loop) => anglesBeside(setting).map((angle) => [loop, angle] as const));
  const along = others.map((loop) => [loop, line] as const);
  const reaches = [...along, ...further].map(([loop, angle]): Edge => {
    const at = settable(reachAlong(angle, setting));
    return {
      name: `${loop.toUpperCase()}-${angleFromZero(angle)}°`,
      unit: "ohm",
      side: "under",
      at,
      around: { ratio: 0.1 },
      heldTo: "pickup",
      pose: isUnsaid(loop, angle, setting) ? UNSAID : poseAlong({ loop, angle, at }, setting, setup),
    };
  });
  return [...reaches, ...limits(setting, setup)];
}

const UNSAID = {
  kind: "none",
  reason: "earth ratios say what is measured on the line angle alone; off it the relay decides",
} as const;

/** How far a sweep in angle goes to either side of a limit. */
const BESIDE: Degrees = 10;

/** The two lines through the origin between which a quadrilateral looks, on the first loop of each kind. */
function limits(setting: DistanceSetting, setup: Setup): Edge[] {
  const { zone, operates } = setting;
  if (zone.form === "mho") return [];
  const turn = operates === "forward" ? 0 : 180;
  const { from, to } = zone.forward;
  const lines = [
    { name: "from", side: "over", limit: from, inside: from + BESIDE },
    { name: "to", side: "under", limit: to, inside: to - BESIDE },
  ] as const;
  return firstLoops(setting).flatMap((loop) =>
    lines.map(({ name, side, limit, inside }): Edge => {
      // Well inside all other lines, so that the angle alone decides.
      const size = settable(0.5 * Math.min(reachAlong(limit + turn, setting), reachAlong(inside + turn, setting)));
      return {
        name: `${loop.toUpperCase()}-${name}`,
        unit: "°",
        side,
        at: limit + turn,
        around: { difference: BESIDE },
        heldTo: "angle",
        pose: isUnsaid(loop, limit + turn, setting) ? UNSAID : poseAround({ loop, size }, setting, setup),
      };
    }),
  );
}

/** A pair of ratios that differ takes resistance and reactance apart, and no complex factor stands for it off the line angle. */
function isUnsaid(loop: Loop, angle: Degrees, setting: DistanceSetting): boolean {
  const { earth } = setting;
  if (!isToEarth(loop) || earth === undefined || "factor" in earth) return false;
  return earth.resistanceRatio !== earth.reactanceRatio && angle !== reachAngle(setting);
}

/** Further angles at which the boundary is looked for, well inside what the zone covers. */
function anglesBeside(setting: DistanceSetting): Degrees[] {
  const { zone, operates } = setting;
  const { lineAngle } = zone;
  const turn = operates === "forward" ? 0 : 180;
  if (zone.form === "mho") {
    const behind = (zone.reverseRatio ?? 0) > 0 ? [lineAngle + 180] : [];
    return [lineAngle - 30, lineAngle + 30, ...behind].map((angle) => angle + turn);
  }
  const { from, to } = zone.forward;
  const [, , corner] = (distanceZone({ ...setting, operates: "forward" }) as Polygon).corners;
  const atCorner = atan2Degrees(corner?.y ?? 0, corner?.x ?? 0);
  // Two points of the blinder: one on the resistance axis says nothing of its direction.
  const onBlinder = from < -1 && atCorner > 1 ? [0, Math.round(atCorner / 2)] : [Math.round((from + atCorner) / 2)];
  const onReactance = [(atCorner + lineAngle) / 2, (lineAngle + to) / 2].map(Math.round);
  const clear = (angle: Degrees, other: Degrees) => Math.abs(angle - other) >= 1;
  return [...new Set([...onBlinder, ...onReactance])]
    .filter((angle) => angle > from && angle < to)
    .filter((angle) => [from, to, atCorner, lineAngle].every((other) => clear(angle, other)))
    .map((angle) => angle + turn);
}

/** How near a fault behind the relay is, as a share of the reach; an offset zone is passed by as much again. */
const BEHIND = 0.2;

/** A close-in fault on the other side, on the first loop of each kind. */
export function stills(setting: DistanceSetting, setup: Setup): Still[] {
  const { pickup, zone, operates } = setting;
  const reverse = zone.form === "mho" ? (zone.reverseRatio ?? 0) * pickup : 0;
  const level = settable(Math.max(BEHIND * pickup, 2 * reverse));
  const side = operates === "forward" ? "reverse" : "forward";
  const angle = reachAngle(setting) + 180;
  return firstLoops(setting).map((loop) => ({
    name: `${side}-${loop.toUpperCase()}`,
    level,
    why: `a ${side} fault at ${plain(level, 6)} ohm`,
    pose: poseAlong({ loop, angle, at: level }, setting, setup),
  }));
}
