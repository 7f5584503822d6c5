import { above, finite, nameIn, object, options, text } from "../base/check.js";
import { within } from "../base/input-error.js";
import type { ChannelStates, Lever, Wiring } from "../base/sequence.js";
import type { Seconds } from "../base/units.js";
import type { ElementSetting } from "../element/index.js";
import { atLevel, type Trial, totalTime } from "../timeline/index.js";
import type { RehearsalOptions } from "./errors.js";
import { playersOf } from "./rehearse.js";
import { type Relay, relayAtRest, runState } from "./run.js";
import { turnedAtStart } from "./source.js";

/** What a search is driven over. */
export interface RehearsedSource extends RehearsalOptions {
  /** The channel states at level 0, and what one unit of the level adds. */
  readonly base: ChannelStates;
  readonly lever: Lever;
  readonly wiring: Wiring;
  /** The level at rest, and how long it is held before a trial from there. */
  readonly rest: { readonly level: number; readonly time: Seconds };
  /** The contact that answers. */
  readonly contact: string;
}

/**
 * A source with a rehearsed relay behind it: asked with a trial, it answers whether the contact is closed at the end of it.
 * It remembers where the relay stands from one trial to the next, as a real one does.
 *
 * @throws A {@link InputError} as `rehearse` does, and for levels that cannot be made.
 * Accuracy: that of `rehearse`.
 * @source common practice
 *
 * @example
 * import { rehearsedSource } from "tripwright/rehearsal";
 * const accuracy = { pickup: { percent: 5 }, time: { percent: 5 } };
 * const law = { curve: { form: "definite", time: 0 } } as const;
 * const relay = [{ id: "50P", function: "50", watches: "phase", pickup: 4, law, measuringDelay: 0.02, contact: "trip", accuracy }] as const;
 * const ask = rehearsedSource(relay, {
 *   base: { i: { rms: 0, frequency: 50 } }, lever: { i: { rms: 1 } },
 *   wiring: { i: { quantity: "current", feeds: { ia: 1 } } }, rest: { level: 0, time: 1 }, contact: "trip",
 * });
 * ask({ level: 4.1, from: "rest", hold: 0.1 }); // → true
 * ask({ level: 3.9, from: "previous", hold: 0.1 }); // → true
 * ask({ level: 3.7, from: "previous", hold: 0.1 }); // → false
 */
export function rehearsedSource(
  elements: readonly ElementSetting[],
  source: RehearsedSource,
): (trial: Trial) => boolean {
  const { base, lever, wiring, rest, contact, ...playing } = options(source, [
    "base",
    "lever",
    "wiring",
    "rest",
    "contact",
    "errors",
    "seed",
  ]);
  const players = playersOf(elements, playing);
  text(contact, "contact", "the name of a contact");
  object(rest, "rest", "the level at rest { level, time }");
  above(rest.time, 0, "rest.time", "a time", "s");
  finite(rest.level, "rest.level", "a level");
  const at = (level: number, duration: Seconds) => ({
    name: `level ${level}`,
    duration,
    channels: atLevel(base, { lever, level }),
  });
  const resting = within("rest", () => at(rest.level, rest.time));
  totalTime({ wiring, segments: [resting] });
  const atStart = (): Relay => relayAtRest(players, turnedAtStart([resting]));
  let relay = atStart();
  return (trial) => {
    const { level, from, hold } = object(trial, "trial", "a trial { level, from, hold }");
    finite(level, "trial.level", "a level");
    nameIn(from, { rest: true, previous: true }, "trial.from");
    above(hold, 0, "trial.hold", "a time", "s");
    if (from === "rest") relay = runState(players, atStart(), resting, wiring).relay;
    relay = runState(players, relay, at(level, hold), wiring).relay;
    return players.some(({ setting }, i) => {
      const state = relay.states[i];
      return (
        (state?.operated && setting.contact === contact) || (state?.shows && setting.startContact === contact) || false
      );
    });
  };
}
