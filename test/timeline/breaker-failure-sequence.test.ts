import { rehearse } from "tripwright/rehearsal";
import { type BreakerFailureCourse, breakerFailureSequence, walk } from "tripwright/timeline";
import { describe, expect, test } from "vitest";
import { relay51 } from "../support/arbitraries.js";
import { problemsOf } from "../support/failure.js";

const amperes = (rms: number) => ({ i: { rms, frequency: 50 } });
const course: BreakerFailureCourse = {
  breaker: "fails",
  before: amperes(1),
  fault: amperes(12),
  cleared: amperes(0),
  wiring: { i: { quantity: "current", feeds: { ia: 1 } } },
  settleFor: 2,
  tripWithin: 3,
  breakerTime: 0.06,
  delay: 0.15,
  tolerance: { percent: 5, absolute: 0.02 },
};

describe("a breaker that fails", () => {
  test("carries the current until the breaker failure contact, and until the breakers around are open", () => {
    const { timeline, expected } = breakerFailureSequence(course);
    expect(timeline.segments.map(({ name, duration, channels }) => [name, duration, channels["i"]?.rms])).toEqual([
      ["pre-fault", 2, 1],
      ["fault", 3, 12],
      // 1.25 · 0.17 + 0.1, in whole 10 ms.
      ["breaker fails", 0.32, 12],
      ["breakers around open", 0.06, 12],
      ["cleared", 0.32, 0],
    ]);
    expect(expected).toEqual({
      index: 2,
      contact: "breaker failure",
      expect: { form: "band", unit: "s", band: { nominal: 0.15, low: 0.13, high: 0.17 } },
    });
  });

  test("counts from the trip contact of the protection, whenever that comes", () => {
    const { timeline } = breakerFailureSequence(course);
    // 13.5/(3 − 1) · 0.2 s at 3 × 4 A.
    const { events } = rehearse([relay51], timeline);
    const tripped = events.find(({ contact }) => contact === "trip")?.at as number;
    expect(tripped).toBeCloseTo(2 + 1.35, 9);
    const failure = { at: tripped + 0.155, contact: "breaker failure", to: "closed" } as const;
    const { operations, states } = walk(timeline, [...events.filter(({ at }) => at <= failure.at), failure]);
    expect(operations.map(({ operateTime = Number.NaN }) => operateTime.toFixed(6))).toEqual(["1.350000", "0.155000"]);
    expect(states.map(({ endedBy }) => endedBy)).toEqual(["time", "contact", "contact", "time", "time"]);
  });

  test("is waited for in vain where the contact never comes", () => {
    const { timeline } = breakerFailureSequence(course);
    const { states } = walk(timeline, [{ at: 2.05, contact: "trip", to: "closed" }]);
    expect(states[2]?.endedBy).toBe("time");
  });

  test("carries it through the lockout relay too, for the exact sum", () => {
    const { segments } = breakerFailureSequence({ ...course, lockout: 0.01, backupBreakerTime: 0.06 }).timeline;
    expect(segments[3]).toMatchObject({ name: "breakers around open", duration: 0.07 });
    expect(
      breakerFailureSequence({ ...course, lockout: 0.1, backupBreakerTime: 0.2 }).timeline.segments[3]?.duration,
    ).toBe(0.3);
    expect(
      breakerFailureSequence({ ...course, lockout: 0.01, backupBreakerTime: 0 }).timeline.segments[3]?.duration,
    ).toBe(0.01);
  });

  test("clears at once where nothing is said to take time behind the contact", () => {
    const names = breakerFailureSequence({ ...course, backupBreakerTime: 0 }).timeline.segments.map(({ name }) => name);
    expect(names).toEqual(["pre-fault", "fault", "breaker fails", "cleared"]);
  });
});

test("a breaker that opens ends the current, and the contact has to stay open for longer than its delay", () => {
  const { timeline, expected } = breakerFailureSequence({ ...course, breaker: "opens" });
  expect(
    timeline.segments.slice(2).map(({ name, duration, channels }) => [name, duration, channels["i"]?.rms]),
  ).toEqual([
    ["breaker opens", 0.06, 12],
    ["cleared", 0.32, 0],
  ]);
  expect(expected).toMatchObject({ index: 2, expect: { form: "stays-quiet", held: 0.38 } });
  // The trip contact lets go once the current has stopped: nothing is left to initiate.
  const { events } = rehearse([relay51], timeline);
  expect(events.filter(({ contact }) => contact === "trip").map(({ to }) => to)).toEqual(["closed", "open"]);
});

test("contacts have the names that they are given", () => {
  const { timeline, expected } = breakerFailureSequence({ ...course, contacts: { trip: "A1", failure: "A7" } });
  expect(timeline.segments.flatMap(({ endsOn }) => endsOn?.contact ?? [])).toEqual(["A1", "A7"]);
  expect(expected.contact).toBe("A7");
});

test.each([
  [{ breaker: "sticks" }, "breaker"],
  [{ delay: 0 }, "delay"],
  [{ breakerTime: -1 }, "breakerTime"],
  [{ backupBreakerTime: -1 }, "backupBreakerTime"],
  [{ tolerance: {} }, "tolerance"],
  [{ tolerance: { percent: -1 } }, "tolerance.percent"],
  [{ contacts: { trip: null } }, "contacts.trip"],
  [{ contacts: { failure: 7 } }, "contacts.failure"],
  [{ settleFor: 0 }, "settleFor"],
  [{ tripWithin: 0 }, "tripWithin"],
  [{ before: { i: { rms: -1, frequency: 50 } } }, "before.i.rms"],
  [{ fault: { x: { rms: 1, frequency: 50 } } }, "fault.x"],
  [{ cleared: null }, "cleared"],
  [{ before: { i: { rms: 1, frequency: 50, slope: { rms: -100 } } } }, "before.i.slope.rms"],
  [{ fault: { i: { rms: 1, frequency: 50, slope: { rms: -100 } } } }, "fault.i.slope.rms"],
  [{ wiring: 7 }, "wiring"],
  [{ retrip: 0.05 }, "retrip"],
])("%j is refused by its field", (change, path) => {
  expect(problemsOf(() => breakerFailureSequence({ ...course, ...change } as never))).toMatchObject([{ path }]);
});
