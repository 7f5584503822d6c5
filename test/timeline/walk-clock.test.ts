/** From where an operate time runs, and what counts as the operation. */
import fc from "fast-check";
import {
  type ContactEvent,
  faultSequence,
  repeatTimeline,
  type Segment,
  type Timeline,
  walk,
} from "tripwright/timeline";
import { describe, expect, test } from "vitest";
import { holds } from "../support/holds.js";
import { contacts, event, sequences, thousandths, wiring } from "./walks.js";

const state = (rms: number) => ({ i: { rms, frequency: 50 } });
const held = (duration: number, change: Partial<Segment> = {}): Segment => ({
  name: "held",
  duration,
  channels: state(1),
  ...change,
});
const starts = { clock: "starts" } as const;
const trips = { endsOn: { contact: "trip", to: "closed" } } as const;
const sequence = (...segments: Segment[]): Timeline => ({ wiring, segments });

describe("an operate time", () => {
  test("and the start of the state that caused it make the elapsed time, exactly", () => {
    holds(
      fc.property(sequences, contacts, (timeline, events) => {
        const { states, operations } = walk(timeline, events);
        const clocks = [...timeline.segments.keys()].filter((i) => timeline.segments[i]!.clock === "starts");
        for (const { index, elapsed, operateTime, operatedOn } of operations) {
          const cause = clocks.length === 0 ? index : clocks.findLast((i) => i <= index)!;
          expect(elapsed).toBe(operatedOn.at);
          expect(thousandths(operateTime!)).toBe(thousandths(elapsed) - thousandths(states[cause]!.startedAt));
          expect(elapsed).toBeLessThanOrEqual(states[index]!.endedAt);
          expect(elapsed).toBeGreaterThanOrEqual(states[index]!.startedAt);
        }
      }),
      500,
    );
  });

  test("of the first operation stands at the top", () => {
    holds(
      fc.property(sequences, contacts, (timeline, events) => {
        const { operations, operateTime, operatedOn, elapsed, endedAt } = walk(timeline, events);
        expect({ operateTime, operatedOn }).toEqual({
          operateTime: operations[0]?.operateTime,
          operatedOn: operations[0]?.operatedOn,
        });
        expect(elapsed).toBe(operations[0]?.elapsed ?? endedAt);
        const all = operations.map((one) => one.elapsed);
        expect(all).toEqual(all.toSorted((a, b) => a - b));
      }),
    );
  });

  test("is whole cycles of 60 Hz where both ends are", () => {
    holds(
      fc.property(fc.integer({ min: 1, max: 300 }), fc.integer({ min: 0, max: 300 }), (before, cycles) => {
        const timeline = sequence(held(before / 60), held(6, starts));
        const walked = walk(timeline, [event("trip", (before + cycles) / 60)]);
        expect(walked.operateTime).toBe(cycles / 60);
        expect(walked.elapsed).toBe((before + cycles) / 60);
      }),
    );
  });

  test("runs through the states after the one that started the clock", () => {
    const timeline = sequence(held(1), held(0.5, starts), held(0.5), held(1, trips));
    expect(walk(timeline, [event("trip", 2.75)])).toMatchObject({ operateTime: 1.75, operations: [{ index: 3 }] });
  });

  test("without any clock runs from the start of the state in which the operation fell", () => {
    const timeline = sequence(held(1), held(1), held(1));
    expect(walk(timeline, [event("trip", 1.25)]).operateTime).toBe(0.25);
    expect(walk(timeline, [event("trip", 2)]).operateTime).toBe(0);
    expect(walk(timeline, [event("trip", 3)]).operateTime).toBe(1);
    expect(walk(sequence(held(1), held(1, trips), held(1)), [event("trip", 2)]).operateTime).toBe(1);
  });

  test("has one for each start of the clock, each from its own start", () => {
    const once = faultSequence({
      before: state(1),
      fault: state(20),
      settleFor: 2,
      giveUpAfter: 1.5,
      ...trips,
      wiring,
    });
    const timeline = repeatTimeline(once, { times: 3, rest: { duration: 1 } });
    const opens = (at: number) => event("trip", at, "open");
    // Pre-fault 0 to 2, fault to 2.3, rest to 3.3, pre-fault to 5.3, fault to 6.8 without a trip, rest to 7.8, fault from 9.8.
    const events = [event("trip", 2.3), opens(2.5), event("trip", 7), opens(7.5), event("trip", 10.125)];
    const { operations, operateTime, elapsed, endedAt } = walk(timeline, events);
    expect(operations.map((one) => [one.operateTime, one.elapsed, one.index])).toEqual([
      [0.3, 2.3, 1],
      [0.325, 10.125, 7],
    ]);
    expect([operateTime, elapsed, endedAt]).toEqual([0.3, 2.3, 10.125]);
  });

  test("a change that ends a fault as the next clock starts is the operation of that fault", () => {
    const timeline = sequence(held(1, { ...starts, ...trips }), held(1, { ...starts, ...trips }));
    const events = [event("start", 1), event("trip", 1)];
    const { operations } = walk(timeline, events, {});
    expect(operations).toEqual([{ operatedOn: events[1], elapsed: 1, operateTime: 1, index: 0 }]);
  });
});

describe("the operation", () => {
  const quiet = sequence(held(1), held(2, starts), held(1));
  const waiting = sequence(held(1), held(2, { ...starts, ...trips }), held(1));
  const events: ContactEvent[] = [
    event("alarm", 1.1, "open"),
    event("start", 1.2),
    event("trip", 1.5),
    event("start", 1.7, "open"),
    event("trip", 1.9, "open"),
  ];

  test("is the first contact that closes where no state waits for one", () => {
    expect(walk(quiet, events).operatedOn).toEqual(events[1]);
  });

  test("is the change that ended a state where one waits, and nothing else", () => {
    expect(walk(waiting, events).operatedOn).toEqual(events[2]);
    expect(walk(waiting, events.slice(0, 2)).operatedOn).toBeUndefined();
  });

  test("is the change that is asked for, whether it ended a state or not", () => {
    const operation = (wanted: object, timeline = quiet) => walk(timeline, events, { operation: wanted }).operatedOn;
    expect(operation({ contact: "trip" })).toEqual(events[2]);
    expect(operation({ contact: "trip", to: "open" })).toEqual(events[4]);
    expect(operation({ to: "open" })).toEqual(events[0]);
    expect(operation({ contact: "start" }, waiting)).toEqual(events[1]);
    expect(operation({ contact: "lockout" })).toBeUndefined();
  });

  test("is the first change that fits what is named of it, to either position where none is named", () => {
    const opening = [event("trip", 0), event("trip", 1.03, "open"), event("trip", 1.2)];
    const named = (operation: object, timeline = quiet) => walk(timeline, opening, { operation });
    expect(named({ contact: "trip" })).toMatchObject({ operateTime: 0.03, operatedOn: opening[1] });
    expect(named({ contact: "trip" }, waiting)).toMatchObject({ operateTime: 0.03, operatedOn: opening[1] });
    expect(named({})).toMatchObject({ operateTime: 0.03, operatedOn: opening[1] });
    expect(named({ contact: "trip", to: "closed" })).toMatchObject({ operateTime: 0.2, operatedOn: opening[2] });
    // A field that is not there is not named either.
    expect(named({ contact: "trip", to: undefined })).toMatchObject({ operatedOn: opening[1] });
    expect(walk(quiet, opening).operatedOn).toEqual(opening[2]);
  });

  test("of a state that waits before the clock starts does not spoil what follows", () => {
    const timeline = sequence(held(1, { endsOn: { contact: "ready", to: "closed" } }), held(2, starts));
    const list = [event("ready", 0.5), event("trip", 0.75)];
    expect(walk(timeline, list)).toMatchObject({ operateTime: 0.25, before: [list[0]], operatedOn: list[1] });
  });

  test("is a release where the state waits for one", () => {
    const timeline = sequence(held(1), held(2, { ...starts, endsOn: { contact: "start", to: "open" } }));
    const list = [event("start", 0.5), event("start", 1.04, "open")];
    expect(walk(timeline, list)).toMatchObject({ operateTime: 0.04, operatedOn: list[1] });
  });
});
