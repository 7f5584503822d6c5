import { Decimal } from "decimal.js";
import fc from "fast-check";
import { faultSequence, joinTimelines, stateAt, type Timeline, totalTime, walk } from "tripwright/timeline";
import { describe, expect, test } from "vitest";
import { decimal } from "../../src/base/exact.js";
import { ulps } from "../support/distance.js";
import { holds } from "../support/holds.js";
import { contacts, counted, event, seconds, sequences, thousandths, wiring } from "./walks.js";

const state = (rms: number) => ({ i: { rms, frequency: 50 } });
const fault = (change: object = {}): Timeline =>
  faultSequence({
    before: state(1),
    fault: state(20),
    settleFor: 2,
    giveUpAfter: 1.5,
    endsOn: { contact: "trip", to: "closed" },
    wiring,
    ...change,
  });

describe("the states of a walk", () => {
  test("without events are those of the timeline, and what ran is the timeline", () => {
    holds(
      fc.property(sequences, fc.nat(120), (timeline, n) => {
        const { states, ran, endedAt, operations, elapsed } = walk(timeline, []);
        expect(ran).toEqual(timeline);
        expect(endedAt).toBe(totalTime(timeline));
        expect(elapsed).toBe(endedAt);
        expect(operations).toEqual([]);
        const t = Math.min(seconds(n), endedAt);
        expect(stateAt(ran, t)).toEqual(stateAt(timeline, t));
        expect(states.map(({ startedAt }) => stateAt(timeline, startedAt).index)).toEqual([...states.keys()]);
        expect(states.every(({ endedBy }) => endedBy === "time")).toBe(true);
      }),
    );
  });

  test("begin and end with a contact whose instant is the double nearest to theirs, however decimals round", () => {
    const waits = { contact: "trip", to: "open" } as const;
    const instant = fc.double({ min: 0.001, max: 0.07, noNaN: true });
    const milliseconds = fc.integer({ min: 1, max: 90 }).map((n) => n / 1000);
    holds(
      fc.property(instant, milliseconds, (tripAt, lasts) => {
        const openAt = new Decimal(tripAt).plus(lasts).toNumber();
        const events = [event("trip", tripAt, "closed"), event("trip", openAt, "open")];
        const fault = { name: "fault", duration: 0.08, channels: state(20), endsOn: { contact: "trip", to: "closed" } };
        const after = { name: "after", duration: lasts, channels: state(0) };
        const last = { name: "last", duration: 0.01, channels: state(0), clock: "starts", endsOn: waits };
        const walked = (segments: readonly object[]) => walk({ wiring, segments } as Timeline, events);
        expect(walked([fault, { ...after, endsOn: waits }]).states[1]).toMatchObject({ endedBy: "contact" });
        const { states, operateTime } = walked([fault, after, last]);
        expect(states[2]).toMatchObject({ startedAt: openAt, endedAt: openAt, endedBy: "contact" });
        expect(operateTime).toBeGreaterThanOrEqual(0);
        expect(operateTime).toBeLessThan(1e-16);
      }),
      1000,
    );
  });

  test("end as a count of milliseconds says, by contact or by time", () => {
    holds(
      fc.property(sequences, contacts, (timeline, events) => {
        const { states } = walk(timeline, events);
        const walked = states.map(({ name: _, ...times }) => ({
          ...times,
          startedAt: thousandths(times.startedAt),
          endedAt: thousandths(times.endedAt),
        }));
        expect(walked).toEqual(counted(timeline, events));
        expect(states.map(({ name }) => name)).toEqual(timeline.segments.map(({ name }) => name));
      }),
      1000,
    );
  });

  test("follow each other without a gap, and what ran lasts as long as they did", () => {
    holds(
      fc.property(sequences, contacts, (timeline, events) => {
        const { states, ran, endedAt } = walk(timeline, events);
        expect([0, ...states.map((one) => one.endedAt)]).toEqual([...states.map((one) => one.startedAt), endedAt]);
        expect(totalTime(ran)).toBe(endedAt);
        const lasted = states.filter(({ startedAt, endedAt: end }) => end > startedAt);
        expect(ran.segments.map(({ name }) => name)).toEqual(lasted.map(({ name }) => name));
        for (const [i, { startedAt }] of lasted.entries()) {
          expect(stateAt(ran, startedAt)).toMatchObject({ index: i, since: 0 });
        }
      }),
      500,
    );
  });

  test("what ran, walked again, is what ran", () => {
    holds(
      fc.property(sequences, contacts, (timeline, events) => {
        const { ran, states } = walk(timeline, events);
        fc.pre(states.length === ran.segments.length);
        const again = walk(ran, events);
        expect(again.ran).toEqual(ran);
        expect(again.states).toEqual(states);
      }),
      300,
    );
  });

  test("last as they were planned where no contact ended them, and as long as it took to the last digit where one did", () => {
    const instant = fc.double({ min: 0.1, max: 100, noNaN: true, minExcluded: true });
    holds(
      fc.property(instant, (at) => {
        const timeline = fault({ settleFor: 0.1, giveUpAfter: 200, afterwards: { channels: {}, duration: 0.001 } });
        const [, ended, planned] = walk(timeline, [event("trip", at)]).ran.segments;
        // Too short a state would show at 0.001 s, whose doubles lie far closer than those at 100 s.
        expect(planned?.duration).toBe(0.001);
        // The double nearest to what the decimals leave, or the next below it.
        expect(ulps(ended!.duration, decimal(at, "").minus("0.1").toNumber())).toBeLessThanOrEqual(1);
      }),
    );
  });

  test("at a measured instant of many digits the next state has begun in what ran", () => {
    const instant = fc.double({ min: 2, max: 3.5, noNaN: true, minExcluded: true, maxExcluded: true });
    const settled = fc.constantFrom(2, 11 / 6, 119 / 60, 1.9, 0.1 + 0.2);
    holds(
      fc.property(instant, settled, (at, settleFor) => {
        const afterwards = { channels: {}, duration: 1 };
        const { ran } = walk(fault({ settleFor, giveUpAfter: 4, afterwards }), [event("trip", at)]);
        const { segment, since } = stateAt(ran, at);
        expect(segment).toBe("afterwards");
        expect(since).toBeLessThanOrEqual(1e-15);
      }),
      500,
    );
  });
});

describe("a boundary", () => {
  test("a contact at the very end of the state that waits for it ends it by contact", () => {
    const { states, operateTime, ran } = walk(fault(), [event("trip", 3.5)]);
    expect(states.map(({ endedBy }) => endedBy)).toEqual(["time", "contact"]);
    expect([operateTime, ran.segments[1]!.duration]).toEqual([1.5, 1.5]);
  });

  test("so it does at 60 Hz, where neither is a decimal", () => {
    holds(
      fc.property(fc.integer({ min: 1, max: 400 }), fc.integer({ min: 1, max: 400 }), (before, cycles) => {
        const timeline = fault({ settleFor: before / 60, giveUpAfter: cycles / 60 });
        const { states, operateTime } = walk(timeline, [event("trip", (before + cycles) / 60)]);
        expect(states[1]!.endedBy).toBe("contact");
        expect(operateTime).toBe(cycles / 60);
      }),
    );
  });

  test("a contact that closes as the state begins that waits for it ends that state at once", () => {
    const walked = walk(fault({ afterwards: { channels: {}, duration: 0.5 } }), [event("trip", 2)]);
    expect(walked.states[1]).toEqual({ name: "fault", index: 1, startedAt: 2, endedAt: 2, endedBy: "contact" });
    expect(walked.operateTime).toBe(0);
    expect(walked.ran.segments.map(({ name }) => name)).toEqual(["pre-fault", "afterwards"]);
    expect(walked.endedAt).toBe(2.5);
  });

  test("one change ends one state: the next that waits for the same waits for it anew", () => {
    const waiting = {
      name: "waiting",
      duration: 1,
      channels: state(1),
      endsOn: { contact: "trip", to: "closed" },
    } as const;
    const timeline = { wiring, segments: [waiting, waiting] };
    expect(walk(timeline, [event("trip", 0.25)]).endedAt).toBe(1.25);
    const twice = [event("trip", 0.25), event("trip", 0.5, "open"), event("trip", 0.75)];
    expect(walk(timeline, twice).states.map(({ endedAt }) => endedAt)).toEqual([0.25, 0.75]);
  });

  test("the contact that ended a state operated before one of the same instant that the next state met, however listed", () => {
    const clock = "starts";
    const first = { name: "first", duration: 2, channels: state(1), clock, endsOn: { contact: "a", to: "closed" } };
    const segments = [first, { name: "second", duration: 2, channels: state(1), clock }] as Timeline["segments"];
    const [a, b] = [event("a", 0.5), event("b", 0.5)];
    for (const events of [
      [a, b],
      [b, a],
    ]) {
      const { operations, operateTime } = walk({ wiring, segments }, events);
      expect(operations).toMatchObject([
        { operatedOn: a, operateTime: 0.5, index: 0 },
        { operatedOn: b, operateTime: 0, index: 1 },
      ]);
      expect(operateTime).toBe(0.5);
    }
  });

  test("two contacts at one instant may end two states, in the order in which they are listed or not", () => {
    const waiting = (contact: string) =>
      ({ name: contact, duration: 1, channels: state(1), endsOn: { contact, to: "closed" } }) as const;
    const timeline = { wiring, segments: [waiting("a"), waiting("b"), waiting("c")] };
    for (const events of [
      [event("a", 0.5), event("b", 0.5)],
      [event("b", 0.5), event("a", 0.5)],
    ]) {
      expect(walk(timeline, events).states.map(({ endedAt }) => endedAt)).toEqual([0.5, 0.5, 1.5]);
    }
  });
});

describe("a joined sequence", () => {
  /** Fault sequences with a contact that closes in pre-fault, as the fault begins, within it, or not at all. */
  const parts = fc.array(
    fc.record({
      settle: fc.integer({ min: 2, max: 50 }),
      giveUp: fc.integer({ min: 2, max: 50 }),
      closes: fc.option(fc.integer({ min: 1, max: 99 }), { nil: undefined }),
      waits: fc.boolean(),
    }),
    { minLength: 1, maxLength: 4 },
  );

  test("walks as its parts do, one after the other", () => {
    holds(
      fc.property(parts, (list) => {
        const own = list.map(({ settle, giveUp, closes = 0, waits }, i) => {
          const endsOn = { contact: `trip ${i}`, to: "closed" } as const;
          const timeline = fault({ settleFor: seconds(settle), giveUpAfter: seconds(giveUp), endsOn });
          const [first, last] = timeline.segments;
          const { endsOn: _, ...quiet } = last!;
          const isIn = closes > 0 && closes < settle + giveUp;
          return {
            timeline: waits ? timeline : { ...timeline, segments: [first!, quiet] },
            events: isIn ? [event(`trip ${i}`, seconds(closes))] : [],
          };
        });
        const walks = own.map(({ timeline, events }) => walk(timeline, events));
        const sums = walks.map((_, i) => walks.slice(0, i).reduce((sum, one) => sum + thousandths(one.endedAt), 0));
        const later = (time: number, i: number) => seconds(thousandths(time) + sums[i]!);
        const events = own.flatMap((one, i) => one.events.map((each) => ({ ...each, at: later(each.at, i) })));
        const joined = walk(joinTimelines(...own.map(({ timeline }) => timeline)), events);

        expect(joined.ran.segments).toEqual(walks.flatMap(({ ran }) => ran.segments));
        expect(joined.states).toEqual(
          walks.flatMap(({ states }, i) =>
            states.map((one) => ({
              ...one,
              index: one.index + 2 * i,
              startedAt: later(one.startedAt, i),
              endedAt: later(one.endedAt, i),
            })),
          ),
        );
        expect(joined.operations).toEqual(
          walks.flatMap(({ operations }, i) =>
            operations.map(({ operatedOn, elapsed, index, ...time }) => ({
              ...time,
              operatedOn: { ...operatedOn, at: later(operatedOn.at, i) },
              elapsed: later(elapsed, i),
              index: index + 2 * i,
            })),
          ),
        );
        expect(joined.before).toEqual(
          walks.flatMap(({ before }, i) => before.map((one) => ({ ...one, at: later(one.at, i) }))),
        );
      }),
      300,
    );
  });
});
