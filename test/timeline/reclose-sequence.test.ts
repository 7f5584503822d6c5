import fc from "fast-check";
import { operateTime, resetTime } from "tripwright/curve";
import type { ElementSetting } from "tripwright/element";
import { rehearse } from "tripwright/rehearsal";
import { type RecloseCourse, recloseSequence, walk } from "tripwright/timeline";
import { describe, expect, test } from "vitest";
import { problemsOf } from "../support/failure.js";
import { holds, runsOf } from "../support/holds.js";

const amperes = (rms: number) => ({ i: { rms, frequency: 50 } });
const feeder: RecloseCourse = {
  before: amperes(1),
  fault: amperes(12),
  dead: amperes(0),
  wiring: { i: { quantity: "current", feeds: { ia: 1, ib: 1, ic: 1 } } },
  deadTimes: [0.5, 15],
  reclaimTime: 20,
  tolerance: { percent: 1, absolute: 0.05 },
  returns: [],
  tripWithin: 40,
};
const names = (change: Partial<RecloseCourse>) =>
  recloseSequence({ ...feeder, ...change }).timeline.segments.map(({ name }) => name);

describe("the states of a reclosing sequence", () => {
  test("of a transient fault: one trip, one dead time, and healthy for the reclaim time", () => {
    const { timeline, expected, held, ends } = recloseSequence({ ...feeder, openingTime: 0.06, closingTime: 0.08 });
    expect(timeline.segments.map(({ name, duration, channels }) => [name, duration, channels["i"]?.rms])).toEqual([
      ["pre-fault", 20.2, 1],
      ["fault 1", 40, 12],
      ["breaker opens 1", 0.06, 12],
      // 1.25 · 0.55 + 0.1, up to whole 10 ms.
      ["dead time 1", 0.79, 0],
      ["breaker closes 1", 0.08, 0],
      ["reclosed", 20.2, 1],
    ]);
    expect(expected).toEqual([
      {
        index: 3,
        contact: "reclose",
        expect: { form: "band", unit: "s", band: { nominal: 0.5, low: 0.45, high: 0.55 } },
      },
    ]);
    expect(held.map(({ index, atLeast }) => [index, atLeast])).toEqual([
      [0, 20.2],
      [3, 0.79],
      [5, 20.2],
    ]);
    expect(ends).toBe("reclosed");
  });

  test("of a permanent fault: every shot in its turn, then nothing for longer than the longest dead time", () => {
    const { timeline, expected, ends } = recloseSequence({ ...feeder, returns: [0, 0] });
    expect(timeline.segments.map(({ name }) => name)).toEqual([
      "pre-fault",
      "fault 1",
      "dead time 1",
      "fault 2",
      "dead time 2",
      "fault 3",
      "lockout",
    ]);
    expect(expected.map(({ index }) => index)).toEqual([2, 4, 6]);
    expect(expected[1]?.expect).toMatchObject({ band: { nominal: 15, low: 14.85, high: 15.15 } });
    // 1.25 · 15.15 + 0.1 = 19.0375.
    expect(expected[2]?.expect).toEqual({ form: "stays-quiet", held: 19.04 });
    expect(ends).toBe("lockout");
  });

  test("a fault that comes back within the reclaim time meets the next shot, a later one the first again", () => {
    expect(names({ returns: [5] })).toEqual([
      "pre-fault",
      "fault 1",
      "dead time 1",
      "reclosed 1",
      "fault 2",
      "dead time 2",
      "reclosed",
    ]);
    const nominal = (returns: number[]) =>
      recloseSequence({ ...feeder, returns }).expected.map(({ expect: one }) =>
        one.form === "band" ? one.band.nominal : "none",
      );
    expect(nominal([5])).toEqual([0.5, 15]);
    expect(nominal([25])).toEqual([0.5, 0.5]);
    expect(nominal([0, 25, 0, 0])).toEqual([0.5, 15, 0.5, 15, "none"]);
  });

  test("that waits for a contact starts the clock", () => {
    for (const { endsOn, clock } of recloseSequence({ ...feeder, returns: [0] }).timeline.segments)
      expect(clock === "starts").toBe(endsOn !== undefined);
  });
});

/** A reclose relay as the rehearsal knows one: the current is gone for the dead time. */
const reclose = (time: number): ElementSetting => ({
  id: "79",
  function: "37",
  watches: "phase",
  phases: "all",
  pickup: 0.2,
  law: { curve: { form: "definite", time, side: "under" } },
  measuringDelay: 0,
  contact: "reclose",
  accuracy: { pickup: { percent: 5 }, time: { percent: 5 } },
});
const law = { curve: "ieee-very-inverse", multiplier: 1 } as const;
const inverse = (reset: object): ElementSetting => ({
  id: "51P",
  function: "51",
  watches: "phase",
  pickup: 4,
  law: { ...law, ...reset },
  measuringDelay: 0,
  contact: "trip",
  accuracy: { pickup: { percent: 5 }, time: { percent: 5 } },
});
const timesOf = (relay: readonly ElementSetting[], course: RecloseCourse) => {
  const { timeline } = recloseSequence(course);
  return walk(timeline, rehearse(relay, timeline).events).operations.map(({ operateTime: time = Number.NaN }) => time);
};

test("a state that has to be held says for how long, and for the sake of what", () => {
  const { timeline, held } = recloseSequence({ ...feeder, deadTimes: [0.5] });
  const told = ({ index, why }: (typeof held)[number]) => `${timeline.segments[index]?.name}: ${why}`;
  expect(held.map(told)).toEqual([
    expect.stringMatching(/^pre-fault: .*reclaim time/),
    expect.stringMatching(/^dead time 1: .*reclosing/),
    expect.stringMatching(/^reclosed: .*reclaim time/),
  ]);
  const lockedOut = recloseSequence({ ...feeder, deadTimes: [0.5], returns: [0] });
  const { index, why } = lockedOut.held.at(-1)!;
  expect(`${lockedOut.timeline.segments[index]?.name}: ${why}`).toMatch(/^lockout: .*dead time/);
  for (const one of [...held, ...lockedOut.held]) expect(one.atLeast).toBeGreaterThan(0.5);
});

test("more returns than there are shots are refused with the number that there may be", () => {
  expect(problemsOf(() => recloseSequence({ ...feeder, returns: [0, 0, 0] }))).toMatchObject([
    { code: "out-of-range", path: "returns", expected: "at most 2 returns, since it is locked out then" },
  ]);
});

describe("rehearsed", () => {
  test("a relay that forgets takes as long at the second fault; one whose disk is not back trips early there", () => {
    const course = { ...feeder, returns: [0] };
    const whole = operateTime(law, 3);
    const forgets = timesOf([inverse({ reset: { form: "instantaneous" } }), reclose(0.5)], course);
    expect(forgets.map((time) => time.toFixed(6))).toEqual([whole, 0.5, whole, 0.5].map((time) => time.toFixed(6)));
    const remembers = timesOf([inverse({ reset: { form: "disk" } }), reclose(0.5)], course);
    // Half a second of the run back is all that has to be travelled again (IEEE C37.112: 21.6 s from full travel).
    const again = (whole * 0.5) / 21.6;
    expect(remembers.map((time) => time.toFixed(6))).toEqual([whole, 0.5, again, 0.5].map((time) => time.toFixed(6)));
    expect(resetTime({ ...law, reset: { form: "disk" } }, 0)).toBeCloseTo(21.6, 12);
  });

  test("a disk that has the time to run back takes as long as ever", () => {
    const whole = operateTime(law, 3);
    const times = timesOf([inverse({ reset: { form: "disk" } }), reclose(22)], {
      ...feeder,
      deadTimes: [22],
      returns: [0],
    });
    expect(times.slice(0, 3).map((time) => time.toFixed(6))).toEqual([whole, 22, whole].map((time) => time.toFixed(6)));
  });
});

test("every fault meets a dead time or the lockout, and there are no more shots in a row than are set", () => {
  const courses = fc.record({
    deadTimes: fc.array(fc.integer({ min: 1, max: 30 }), { minLength: 1, maxLength: 4 }),
    returns: fc.array(fc.constantFrom(0, 0, 3, 50), { maxLength: 8 }),
  });
  let told = 0;
  holds(
    fc.property(courses, (change) => {
      let inARow = 0;
      const isLockedOut = change.returns.some((gap) => {
        const before = inARow;
        inARow = gap > 20.2 ? 0 : inARow + 1;
        return before === change.deadTimes.length;
      });
      if (isLockedOut)
        return void expect(problemsOf(() => recloseSequence({ ...feeder, ...change }))).toMatchObject([
          { path: "returns" },
        ]);
      told++;
      const { timeline, expected, ends } = recloseSequence({ ...feeder, ...change });
      const faults = timeline.segments.filter(({ name }) => name.startsWith("fault")).length;
      expect(faults).toBe(change.returns.length + 1);
      expect(expected).toHaveLength(faults);
      expect(timeline.segments.at(-1)?.name).toBe(ends);
      for (const { index, expect: one } of expected)
        expect(timeline.segments[index]?.endsOn !== undefined).toBe(one.form === "band");
    }),
  );
  expect(told).toBeGreaterThan(runsOf(10));
});

test.each([
  [{ deadTimes: [] }, "deadTimes"],
  [{ deadTimes: 0.5 }, "deadTimes"],
  [{ deadTimes: [0.5, 0] }, "deadTimes[1]"],
  [{ reclaimTime: 0 }, "reclaimTime"],
  [{ openingTime: -1 }, "openingTime"],
  [{ closingTime: -1 }, "closingTime"],
  [{ tolerance: {} }, "tolerance"],
  [{ returns: undefined }, "returns"],
  [{ returns: [-1] }, "returns[0]"],
  [{ returns: [19.9] }, "returns[0]"],
  [{ returns: [20.2] }, "returns[0]"],
  [{ returns: [19.75], closingTime: 0.08 }, "returns[0]"],
  [{ returns: [0, 0, 0] }, "returns"],
  [{ contacts: { reclose: 3 } }, "contacts.reclose"],
  [{ contacts: { trip: null } }, "contacts.trip"],
  [{ tripWithin: 0 }, "tripWithin"],
  [{ before: { i: { rms: -1, frequency: 50 } } }, "before.i.rms"],
  [{ fault: { x: { rms: 1, frequency: 50 } } }, "fault.x"],
  [{ dead: null }, "dead"],
  [{ before: { i: { rms: 1, frequency: 50, slope: { rms: -100 } } } }, "before.i.slope.rms"],
  [{ dead: { i: { rms: 1, frequency: 50, slope: { rms: -100 } } } }, "dead.i.slope.rms"],
  [{ wiring: 7 }, "wiring"],
  [{ shots: 2 }, "shots"],
])("%j is refused by its field", (change, path) => {
  expect(problemsOf(() => recloseSequence({ ...feeder, ...change } as never))).toMatchObject([{ path }]);
});
