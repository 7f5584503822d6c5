/** What stands at a level, on which contact it shows, and why it cannot be swept. */
import { plain } from "../base/written.js";
import { type ElementSetting, inputsOf, standingAt } from "../element/index.js";
import type { RelaySettings } from "../sheet/index.js";
import type { Posed } from "./posed.js";
import { definition, isInverse } from "./started.js";

/** Where a function shows its start: on the start contact where it has one. */
export const watchedContact = ({ startContact, contact }: ElementSetting): string => startContact ?? contact;

/** Why no sweep can show where the function starts or lets go; nothing where one can. */
export function whyNotSwept(element: ElementSetting): string | undefined {
  return element.startContact === undefined && isInverse(element)
    ? "near the setting an inverse time grows without bound, so its trip contact cannot show the pickup; name a start contact, or fit the pickup to timed injections"
    : undefined;
}

/** What stands on the relay's inputs at a level. */
export const seenAt = (level: number, posed: Posed): ReturnType<typeof inputsOf> =>
  inputsOf(standingAt(posed, level), posed.wiring);

/** What to mind where the start contact is watched. */
export const startContactCaution = ({ startContact, contact }: ElementSetting): string[] =>
  startContact === undefined ? [] : [`The start contact is watched; contact ${contact} may operate meanwhile.`];

/** A rate of change that is held carries the frequency away; a fifth of it is as far as anybody goes. */
export function runsAway(
  element: ElementSetting,
  { to, hold }: { readonly to: number; readonly hold: number },
  { setup: { frequency } }: RelaySettings,
): string | undefined {
  if (definition(element).unit !== "Hz/s") return undefined;
  const away = to * hold;
  return away <= 0.2 * frequency
    ? undefined
    : `would carry the frequency ${plain(away, 3)} Hz away from ${frequency} Hz`;
}
