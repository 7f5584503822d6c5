/** Which changes of contacts count: order, repetition, bounce, before the start and after the end. */
import fc from "fast-check";
import { type ContactEvent, faultSequence, repeatTimeline, walk } from "tripwright/timeline";
import { describe, expect, test } from "vitest";
import { holds } from "../support/holds.js";
import { contacts, event, seconds, sequences, wiring } from "./walks.js";

const timeline = faultSequence({
  before: { i: { rms: 1, frequency: 50 } },
  fault: { i: { rms: 20, frequency: 50 } },
  settleFor: 2,
  giveUpAfter: 1.5,
  wiring,
});
const operationOf = (events: readonly ContactEvent[], debounce = 0) => walk(timeline, events, { debounce }).operatedOn;

describe("bounce", () => {
  const debounce = 0.02;
  /** Each change with up to six more within less than the debounce time, which end where the change led. */
  const bounced = fc.array(
    fc.record({
      pause: fc.integer({ min: 21, max: 60 }),
      contact: fc.constantFrom("trip", "start"),
      bounces: fc.uniqueArray(fc.integer({ min: 1, max: 19 }), { maxLength: 6 }),
    }),
    { maxLength: 6 },
  );

  test("shorter than the debounce time leaves the walk as it would be without", () => {
    holds(
      fc.property(sequences, bounced, fc.boolean(), (sequence, list, closedAtFirst) => {
        const stands = new Map<string, boolean>();
        const [clean, dirty]: [ContactEvent[], ContactEvent[]] = [[], []];
        let now = 0;
        for (const { pause, contact, bounces } of list) {
          now += pause;
          const closes = !(stands.get(contact) ?? closedAtFirst);
          stands.set(contact, closes);
          const way = (closed: boolean) => (closed ? "closed" : "open");
          clean.push(event(contact, seconds(now), way(closes)));
          dirty.push(clean.at(-1)!);
          const even = bounces.slice(0, bounces.length - (bounces.length % 2)).sort((a, b) => a - b);
          for (const [i, more] of even.entries()) {
            dirty.push(event(contact, seconds(now + more), way(i % 2 === 0 ? !closes : closes)));
          }
          now += 20;
        }
        expect(walk(sequence, dirty, { debounce })).toEqual(walk(sequence, clean, { debounce }));
        expect(walk(sequence, clean, { debounce })).toEqual(walk(sequence, clean));
      }),
      500,
    );
  });

  const pattern = [event("trip", 2.3), event("trip", 2.304, "open"), event("trip", 2.309)];
  test("counts as one change up to the debounce time itself, and as three beyond", () => {
    const waiting = faultSequence({
      before: { i: { rms: 1, frequency: 50 } },
      fault: { i: { rms: 20, frequency: 50 } },
      settleFor: 2,
      giveUpAfter: 1.5,
      endsOn: { contact: "trip", to: "open" },
      wiring,
    });
    expect(walk(waiting, pattern, { debounce: 0.005 }).operatedOn).toBeUndefined();
    expect(walk(waiting, pattern, { debounce: 0.0049 }).operatedOn).toEqual(pattern[1]);
    expect(walk(waiting, pattern).operatedOn).toEqual(pattern[1]);
  });

  test("is measured exactly: a sixtieth of a second after 11/60 s is within a sixtieth", () => {
    const cycles = [event("trip", 11 / 60, "open"), event("trip", 12 / 60), event("trip", 13 / 60, "open")];
    expect(walk(timeline, cycles, { debounce: 1 / 60 }).before).toEqual([cycles[0]]);
    expect(walk(timeline, cycles, { debounce: 0.0166 }).before).toEqual(cycles);
  });

  test("that leaves the contact as it was is a blip: its first change counts, and its last", () => {
    const blip = [
      event("trip", 2.3),
      event("trip", 2.3015, "open"),
      event("trip", 2.3035),
      event("trip", 2.305, "open"),
    ];
    const still = { name: "waiting", duration: 3, channels: {} };
    const { before } = walk({ wiring, segments: [still, { ...still, clock: "starts" }] }, blip, {
      debounce: 0.002,
    });
    expect(before).toEqual([blip[0], blip[3]]);
  });

  test("of one contact is no bounce of another", () => {
    const events = [event("trip", 2.3, "open"), event("start", 2.3015), event("trip", 2.3035)];
    expect(operationOf(events, 0.01)).toEqual(events[1]);
  });

  const tripping = { ...timeline, segments: [{ name: "fault", duration: 1, clock: "starts", channels: {} }] } as const;

  test("has no part in how a contact stood at the start", () => {
    const opened = event("trip", 0, "open");
    const bounced = [opened, event("trip", 0.003), event("trip", 0.004, "open"), event("trip", 0.006)];
    expect(walk(tripping, bounced, { debounce: 0.005 }).operateTime).toBe(0.003);
    const blip = walk(tripping, bounced.slice(0, 3), { debounce: 0.005 });
    expect(blip.operations).toEqual([{ operatedOn: bounced[1], elapsed: 0.003, operateTime: 0.003, index: 0 }]);
    const released = [event("trip", -0.001), event("trip", 0.001, "open"), event("trip", 0.002)];
    expect(walk(timeline, released, { debounce: 0.005 }).before).toEqual(released.slice(1));
    expect(walk(timeline, released).before).toEqual(released.slice(1));
  });

  test("counts the same whether the contact is told to have stood at the start or not, and how long before", () => {
    holds(
      fc.property(contacts, fc.integer({ min: 0, max: 9 }), fc.integer({ min: 0, max: 12 }), (events, early, ms) => {
        const later = events.filter(({ at }) => at > 0);
        const first = (name: string) => later.find(({ contact }) => contact === name)?.to ?? "closed";
        const told = ["trip", "start"].map((name) =>
          event(name, seconds(-early), first(name) === "closed" ? "open" : "closed"),
        );
        const how = { debounce: seconds(ms) };
        expect(walk(tripping, [...later, ...told], how)).toEqual(walk(tripping, later, how));
      }),
    );
  });
});

describe("the list of events", () => {
  test("may come in any order", () => {
    const shuffled = contacts.chain((events) =>
      fc.tuple(fc.constant(events), fc.shuffledSubarray([...events], { minLength: events.length })),
    );
    holds(
      fc.property(sequences, shuffled, (sequence, [events, mixed]) => {
        expect(walk(sequence, mixed)).toEqual(walk(sequence, events));
      }),
    );
  });

  test("is left as it was", () => {
    const events = [event("trip", 2.5), event("trip", 2.25, "open")];
    const copy = structuredClone(events);
    walk(timeline, events);
    expect(events).toEqual(copy);
  });

  test("may say again how a contact stands, which changes nothing", () => {
    holds(
      fc.property(sequences, contacts, fc.integer({ min: 1, max: 9 }), (sequence, events, tenths) => {
        const doubled = events.flatMap((one, i) => {
          const next = events[i + 1]?.at ?? one.at + 0.01;
          return [one, { ...one, at: Number((one.at + ((next - one.at) * tenths) / 10).toFixed(5)) }];
        });
        // What is said again must stand before the next change.
        expect(walk(sequence, doubled)).toEqual(walk(sequence, events));
      }),
    );
  });

  test("at one instant counts in the order in which it is written", () => {
    const events = [event("trip", 2.5), event("trip", 2.5, "open"), event("start", 2.5)];
    expect(operationOf(events)).toEqual(events[0]);
    expect(operationOf([events[2]!, events[0]!])).toEqual(events[2]);
    const waiting = [event("start", 2.25), event("trip", 2.5), event("start", 2.5, "open")];
    const { after } = walk({ ...timeline, segments: [{ name: "short", duration: 1, channels: {} }] }, waiting);
    expect(after).toEqual(waiting);
  });
});

describe("what a contact did", () => {
  test("at 0 or before says how it stood: closed already, it is no operation until it opens and closes", () => {
    for (const at of [-1, 0]) {
      expect(operationOf([event("trip", at)])).toBeUndefined();
      expect(operationOf([event("trip", at), event("trip", 2.5)])).toBeUndefined();
      const again = [event("trip", at), event("trip", 2.4, "open"), event("trip", 2.5)];
      expect(operationOf(again)).toEqual(again[2]);
    }
  });

  test("in pre-fault is listed and never timed", () => {
    const events = [event("trip", 1.9), event("trip", 1.95, "open"), event("trip", 2.25)];
    const walked = walk(timeline, events);
    expect(walked.before).toEqual(events.slice(0, 2));
    expect([walked.operateTime, walked.elapsed]).toEqual([0.25, 2.25]);
    expect(walk(timeline, events.slice(0, 1))).toMatchObject({ before: events.slice(0, 1), operations: [] });
  });

  test("exactly when the clock starts belongs to the fault", () => {
    expect(walk(timeline, [event("trip", 2)])).toMatchObject({ before: [], operateTime: 0, elapsed: 2 });
  });

  test("at the very end is an operation, after it is listed and no operation", () => {
    expect(walk(timeline, [event("trip", 3.5)])).toMatchObject({ operateTime: 1.5, after: [] });
    const late = walk(timeline, [event("trip", 3.501)]);
    expect(late).toMatchObject({ after: [event("trip", 3.501)], operations: [], elapsed: 3.5 });
    expect(late).not.toHaveProperty("operateTime");
    expect(late).not.toHaveProperty("operatedOn");
  });

  test("in the pre-fault of a later fault is none of the earlier one's, in what stands between it may be", () => {
    const twice = repeatTimeline(timeline, { times: 2, rest: { duration: 1 } });
    // Pre-fault to 2 s, fault to 3.5 s, rest to 4.5 s, pre-fault to 6.5 s, fault to 8 s.
    expect(walk(twice, [event("trip", 4.5)])).toMatchObject({ before: [event("trip", 4.5)], operations: [] });
    expect(walk(twice, [event("trip", 4.25)])).toMatchObject({
      before: [],
      operateTime: 2.25,
      operations: [{ index: 2 }],
    });
    expect(walk(twice, [event("trip", 6.5)])).toMatchObject({ before: [], operateTime: 0, operations: [{ index: 4 }] });
  });

  test("is before, an operation or after, and never two of these", () => {
    holds(
      fc.property(sequences, contacts, (sequence, events) => {
        const { before, after, endedAt, operations } = walk(sequence, events);
        for (const one of after) expect(one.at).toBeGreaterThan(endedAt);
        for (const one of before) expect(one.at).toBeLessThanOrEqual(endedAt);
        for (const { operatedOn } of operations) {
          expect(before).not.toContain(operatedOn);
          expect(after).not.toContain(operatedOn);
        }
        if (sequence.segments.every(({ clock }) => clock === undefined)) expect(before).toEqual([]);
      }),
    );
  });
});
