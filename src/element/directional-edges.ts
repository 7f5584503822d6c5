/** Where a directional function is swept in angle, and where it has to stay quiet. */
import type { Degrees } from "../base/units.js";
import type { Edge, Still } from "./definition.js";
import { ABOVE, byAngle, bySize } from "./directional-poses.js";
import { middleOf } from "./directional-read.js";
import type { DirectionalSetting } from "./setting.js";
import type { Setup } from "./setup.js";

/** Where twice the pickup along the characteristic angle falls to the pickup: cos⁻¹ ½. */
const COSINE_EDGE: Degrees = 60;

export function edges(setting: DirectionalSetting, setup: Setup): Edge[] {
  const { measures = "current", leading = 90, lagging = 90 } = setting;
  const middle = middleOf(setting);
  const most = measures === "current" ? 180 : COSINE_EDGE;
  const common = { unit: "°", around: { difference: 10 }, heldTo: "angle", pose: byAngle(setting, setup) } as const;
  return [
    { ...common, name: "leading", side: "under", at: middle + Math.min(leading, most) },
    { ...common, name: "lagging", side: "over", at: middle - Math.min(lagging, most) },
  ];
}

export function stills(setting: DirectionalSetting, setup: Setup): Still[] {
  const behind = setting.operates === "forward" ? "reverse" : "forward";
  const pose = bySize(setting, setup, middleOf(setting) + 180);
  return [
    {
      name: behind,
      level: ABOVE * (setting.law.startRatio ?? 1) * setting.pickup,
      why: `a ${behind} fault of ${ABOVE} × the setting`,
      pose,
    },
  ];
}
