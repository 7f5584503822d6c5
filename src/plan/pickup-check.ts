import type { Answer } from "../base/answer.js";
import type { ElementSetting } from "../element/index.js";
import type { RelaySettings } from "../sheet/index.js";
import type { Check } from "./check.js";
import { crossingCheck } from "./crossing-check.js";
import { expectPickup } from "./expect.js";
import { whyNotSwept } from "./injected.js";
import { poseInFrontOf } from "./posed.js";
import { definition, startOf } from "./started.js";

/** A sweep through the level at which the function starts. */
export function pickupCheck(element: ElementSetting, settings: RelaySettings): Answer<{ check: Check }, string> {
  const notSwept = whyNotSwept(element);
  if (notSwept !== undefined) return { kind: "none", reason: notSwept };
  const posed = poseInFrontOf(element, settings);
  if (posed.kind === "none") return posed;
  const { unit, side, practice } = definition(element);
  const at = startOf(element);
  const { around, fromRest = false } = practice;
  const expected = expectPickup(element);
  return crossingCheck(
    { name: "pickup", proves: "pickup", unit, side, at, around, expected, posed, fromRest },
    element,
    settings,
  );
}
