import type { Answer } from "../base/answer.js";
import { above, fail, options } from "../base/check.js";
import { decimal, toNumber } from "../base/exact.js";
import { onOwnData } from "../base/own-data.js";
import type { RelaySettings } from "../sheet/index.js";
import type { Check } from "./check.js";
import { timeCheck } from "./time-check.js";

/** At which multiple of its setting an element is timed. */
export interface TimedPlace {
  /** The id of an element of the sheet. */
  readonly element: string;
  readonly multiple: number;
}

/**
 * The check of an operate time at a multiple of the setting that need not be among those of the plan, or why it cannot be
 * made: what the source cannot put out, a level at which nothing operates.
 *
 * @param settings - From {@link settingsOf}.
 * @throws A {@link InputError} for an element that the sheet does not have and a multiple that is not above 0.
 * Accuracy: as {@link plan}.
 * @source common practice
 *
 * @example
 * import { readSheet, settingsOf, timedAt } from "tripwright/plan";
 * const accuracy = { pickup: { percent: 5 }, time: { percent: 5, absolute: "40 ms" } };
 * const sheet = readSheet({
 *   format: "tripwright/sheet@1", substation: "Corriedale Junction", feeder: "Tannery Lane", relay: "F12",
 *   frequency: "50 Hz", values: "secondary", ct: "400/5",
 *   elements: [{ id: "51P", function: "51", pickup: "4 A", curve: "iec-very-inverse", multiplier: 0.2, accuracy }],
 * });
 * const timed = timedAt(settingsOf(sheet), { element: "51P", multiple: 5 });
 * timed.kind === "found" && timed.check.expect; // → { form: "band", unit: "s", band: { nominal: 0.675, low: 0.635, high: 0.715 } }
 */
export function timedAt(settings: RelaySettings, place: TimedPlace): Answer<{ check: Check }, string> {
  const { element, multiple } = options(place, ["element", "multiple"]);
  above(multiple, 0, "multiple", "a multiple of the setting");
  return onOwnData("settings", "settings, as `settingsOf` makes them", () => checkAt(settings, element, multiple));
}

function checkAt(settings: RelaySettings, element: string, multiple: number): Answer<{ check: Check }, string> {
  const setting = settings.elements.find(({ id }) => id === element);
  if (setting === undefined) return fail("unknown-name", "element", "an element of the sheet", element);
  const level = toNumber(decimal(setting.pickup, "pickup").times(decimal(multiple, "multiple")), "level");
  return timeCheck({ name: `time@${multiple}`, level }, setting, settings);
}
