import type { Answer } from "../base/answer.js";
import type { ElementSetting } from "../element/index.js";
import type { RelaySettings } from "../sheet/index.js";
import { poseInFrontOf } from "./bench.js";
import type { Check } from "./check.js";
import { crossingCheck } from "./crossing-check.js";
import { definition, expectPickup, startOf } from "./expect.js";
import { whyNotSwept } from "./injected.js";

/** A sweep through the level at which the function starts. */
export function pickupCheck(setting: ElementSetting, settings: RelaySettings): Answer<{ check: Check }, string> {
  const notSwept = whyNotSwept(setting);
  if (notSwept !== undefined) return { kind: "none", reason: notSwept };
  const posed = poseInFrontOf(setting, settings);
  if (posed.kind === "none") return posed;
  const { unit, side, practice } = definition(setting);
  const at = startOf(setting);
  const { around, fromRest = false } = practice;
  const expected = expectPickup(setting);
  return crossingCheck(
    { name: "pickup", proves: "pickup", unit, side, at, around, expected, posed, fromRest },
    setting,
    settings,
  );
}
