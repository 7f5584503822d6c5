/** What a figure of a sequence shows, in a sentence or two for those who do not see it. */
import type { Change, Lane } from "./contact-changes.js";
import type { TimedOperation } from "./contact-lanes.js";
import type { DrawnState } from "./state-names.js";

/** The states, or the first and the last of many; what each contact did; and the operate times. */
export function inWords(
  states: readonly DrawnState[],
  lanes: readonly Lane[],
  timed: readonly TimedOperation[],
): string {
  const shown = states.length > 8 ? [states[0], states.at(-1)] : states;
  const between = states.length > 8 ? ` and ${states.length - 2} states between` : "";
  const named = (shown as DrawnState[]).map(
    ({ name, startedAt, endedAt }) => `${name} from ${short(startedAt)} to ${short(endedAt)} s`,
  );
  const changes = lanes
    .flatMap(({ contact, changes: own }) => own.map((change) => ({ contact, change })))
    .sort((a, b) => a.change.at - b.change.at)
    .map(({ contact, change }) => `${contact} ${changeInWords(change)}`);
  const times = timed.map(({ operateTime }) => `${short(operateTime)} s`);
  return [
    `${named.join("; ")}${between}.`,
    ...(changes.length === 0 ? [] : [`${changes.join("; ")}.`]),
    ...(times.length === 0 ? [] : [`Operate time ${times.join(", ")}.`]),
  ].join(" ");
}

const changeInWords = ({ at, to, settledAt, settles }: Change): string =>
  `${to} at ${short(at)} s${settledAt > at ? `, bounces, ${settles} from ${short(settledAt)} s` : ""}`;

const short = (x: number): number => Number(x.toPrecision(6));
