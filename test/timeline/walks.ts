/** What the tests of walks share: random sequences and contacts on the millisecond, and a walk that counts in them. */
import fc from "fast-check";
import type { ContactEvent, Segment, Timeline } from "tripwright/timeline";

export const wiring = { i: { quantity: "current", feeds: { ia: 1 } } } as const;

/** Milliseconds as seconds. */
export const seconds = (thousandths: number): number => thousandths / 1000;
/** Seconds as milliseconds; a time that is none fails. */
export const thousandths = (time: number): number => {
  const n = Math.round(time * 1000);
  if (n / 1000 !== time) throw new Error(`${time} s is no whole number of milliseconds`);
  return n;
};

export const event = (contact: string, at: number, to: "closed" | "open" = "closed"): ContactEvent => ({
  contact,
  at,
  to,
});

const contact = fc.constantFrom("trip", "start");
const to = fc.constantFrom("closed" as const, "open" as const);
const change = fc.record({ contact, to });

const segment: fc.Arbitrary<Segment> = fc
  .record({
    duration: fc.integer({ min: 1, max: 20 }),
    rms: fc.nat(9),
    endsOn: fc.option(change, { nil: undefined }),
    clock: fc.option(fc.constant("starts" as const), { nil: undefined, freq: 1 }),
  })
  .map(({ duration, rms, endsOn, clock }) => ({
    name: `${rms} A`,
    duration: seconds(duration),
    channels: { i: { rms, frequency: 50 } },
    ...(endsOn && { endsOn }),
    ...(clock && { clock }),
  }));

/** A few short states, so that contacts often meet their boundaries. */
export const sequences: fc.Arbitrary<Timeline> = fc
  .array(segment, { minLength: 1, maxLength: 6 })
  .map((segments) => ({ wiring, segments }));

/** What two contacts did, in order of time, at instants of their own. */
export const contacts: fc.Arbitrary<readonly ContactEvent[]> = fc
  .uniqueArray(fc.record({ at: fc.integer({ min: -3, max: 130 }), contact, to }), {
    selector: ({ at }) => at,
    maxLength: 12,
  })
  .map((list) => list.sort((a, b) => a.at - b.at).map(({ at, ...rest }) => ({ ...rest, at: seconds(at) })));

/** A state as it came to pass, in milliseconds. */
export interface Counted {
  readonly index: number;
  readonly startedAt: number;
  readonly endedAt: number;
  readonly endedBy: "time" | "contact";
}

/**
 * The states as they came to pass, told from the side of time: millisecond by millisecond, first the contact that the
 * running state waits for, then the end of its time, and again for the state that begins, until nothing happens.
 */
export function counted({ segments }: Timeline, events: readonly ContactEvent[]): readonly Counted[] {
  const stands = new Map<string, string>();
  const states: Counted[] = [];
  let [index, startedAt] = [0, 0];
  const end = (endedAt: number, endedBy: "time" | "contact"): void => {
    states.push({ index, startedAt, endedAt, endedBy });
    [index, startedAt] = [index + 1, endedAt];
  };
  for (let now = -10; now <= 1000; now++) {
    const happened = events.find(({ at }) => thousandths(at) === now);
    let fresh = happened !== undefined && stands.get(happened.contact) !== happened.to ? happened : undefined;
    if (happened !== undefined) stands.set(happened.contact, happened.to);
    for (let running = segments[index]; running !== undefined && now > 0; running = segments[index]) {
      if (fresh && running.endsOn?.contact === fresh.contact && running.endsOn.to === fresh.to) {
        end(now, "contact");
        fresh = undefined;
      } else if (now === startedAt + thousandths(running.duration)) end(now, "time");
      else break;
    }
  }
  return states;
}
