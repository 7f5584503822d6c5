import type { Problem } from "../base/problem.js";
import { type ElementSetting, healthy, inputsOf, operateTimeOf } from "../element/index.js";
import type { RelaySettings } from "../sheet/index.js";
import { definition } from "./expect.js";

/**
 * Settings that make no sense on this system, each with the element that has them. The system is healthy in all three
 * phases, whatever the source at hand can make of it.
 */
export function findingsOf(settings: RelaySettings): Problem[] {
  const { states, wiring } = healthy({ ...settings.setup, voltageChannels: 3 });
  const inputs = inputsOf(states, wiring);
  return settings.elements
    .filter((element) => operatesOn(element, inputs))
    .map((element) => ({
      code: "conflict",
      path: `${element.id}.pickup`,
      expected: "a setting at which the element is quiet on a healthy system",
      received: `${element.pickup} ${definition(element).unit}`,
    }));
}

const operatesOn = (element: ElementSetting, inputs: ReturnType<typeof inputsOf>): boolean =>
  Number.isFinite(operateTimeOf(element, inputs));
