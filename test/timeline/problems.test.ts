/** What a sequence, a search or a ramp refuses, it names with its place, the reason, and what it wanted. */
import {
  breakerFailureSequence,
  rampError,
  recloseSequence,
  seekPickup,
  stateAt,
  type Timeline,
  thereAndBack,
} from "tripwright/timeline";
import { describe, expect, test } from "vitest";
import { problemsOf } from "../support/failure.js";

type Row = readonly [object, string, string, string];

function says(row: Row, ask: (change: object) => unknown): void {
  const [change, path, code, expected] = row;
  expect(problemsOf(() => ask(change))).toEqual([{ path, code, expected, received: expect.any(String) }]);
}

const state = (rms: number) => ({ i: { rms, frequency: 50 } });
const wiring = { i: { quantity: "current", feeds: { ia: 1 } } } as const;
const TIME = "out-of-range";

describe("a breaker failure sequence is refused", () => {
  const good = {
    breaker: "fails",
    before: state(1),
    fault: state(20),
    cleared: state(0),
    wiring,
    settleFor: 2,
    tripWithin: 1,
    breakerTime: 0.06,
    delay: 0.15,
    tolerance: { absolute: 0.02 },
  };
  const rows: readonly Row[] = [
    [{ breakerTime: 0 }, "breakerTime", TIME, "a time above 0 s"],
    [{ delay: 0 }, "delay", TIME, "a time above 0 s"],
    [{ backupBreakerTime: -1 }, "backupBreakerTime", TIME, "a time of 0 s or more"],
    [{ lockout: -0.01 }, "lockout", TIME, "a time of 0 s or more"],
    [{ lockout: 1e308, backupBreakerTime: 1e308 }, "backupBreakerTime", TIME, "a result within the range of a double"],
    [{ delay: 1.6e308 }, "delay", TIME, "a result within the range of a double"],
    [{ tolerance: {} }, "tolerance", "missing", "a percent or an absolute tolerance"],
    [{ tolerance: { percent: -1 } }, "tolerance.percent", TIME, "a tolerance of 0 % or more"],
    [{ tolerance: { absolute: -1 } }, "tolerance.absolute", TIME, "a tolerance of 0 s or more"],
    [{ tolerance: { absolute: 1e308 }, delay: 1e308 }, "tolerance", TIME, "a result within the range of a double"],
    [{ contacts: { close: "52" } }, "contacts.close", "unknown-key", "one of trip, failure"],
    [{ contacts: { trip: 1 } }, "contacts.trip", "wrong-type", "the name of a contact"],
    [{ contacts: { failure: 1 } }, "contacts.failure", "wrong-type", "the name of a contact"],
  ];
  test.each(rows)("%j", (...row) => says(row, (change) => breakerFailureSequence({ ...good, ...change } as never)));

  test("unless it names no contacts: they are called trip and breaker failure", () => {
    const { timeline } = breakerFailureSequence(good as never);
    const ends = timeline.segments.flatMap(({ endsOn }) => (endsOn === undefined ? [] : [endsOn.contact]));
    expect(ends).toEqual(["trip", "breaker failure"]);
  });
});

describe("a reclose sequence is refused", () => {
  const good = {
    before: state(1),
    fault: state(20),
    dead: state(0),
    wiring,
    tripWithin: 1,
    deadTimes: [0.5],
    reclaimTime: 30,
    returns: [1],
    tolerance: { absolute: 0.05 },
  };
  const near = "a time well within or beyond the reclaim time (29.95 to 30.05 s), so that one shot alone is right";
  const rows: readonly Row[] = [
    [{ reclaimTime: 0 }, "reclaimTime", TIME, "a time above 0 s"],
    [{ openingTime: -1 }, "openingTime", TIME, "a time of 0 s or more"],
    [{ closingTime: -1 }, "closingTime", TIME, "a time of 0 s or more"],
    [{ deadTimes: [0] }, "deadTimes[0]", TIME, "a dead time above 0 s"],
    [{ deadTimes: [] }, "deadTimes", "wrong-length", "a list of dead times, one for each shot"],
    [{ returns: [-1] }, "returns[0]", TIME, "a time after reclosing of 0 s or more"],
    [{ returns: [1, 30] }, "returns[1]", "conflict", near],
    [{ returns: [29.95] }, "returns[0]", "conflict", near],
    [{ returns: [21.83], closingTime: 8.12 }, "returns[0]", "conflict", near],
    [{ deadTimes: [0.5, 1.6e308] }, "deadTimes[1]", TIME, "a result within the range of a double"],
    [{ contacts: { close: "52" } }, "contacts.close", "unknown-key", "one of trip, reclose"],
    [{ contacts: { trip: 1 } }, "contacts.trip", "wrong-type", "the name of a contact"],
    [{ contacts: { reclose: 1 } }, "contacts.reclose", "wrong-type", "the name of a contact"],
  ];
  test.each(rows)("%j", (...row) => says(row, (change) => recloseSequence({ ...good, ...change } as never)));
});

describe("a moving level is refused", () => {
  const rows: readonly Row[] = [
    [{ rate: 1, step: 1 }, "rate", "conflict", "either a rate or a step with its dwell"],
    [{ rate: 1, dwell: 1 }, "rate", "conflict", "either a rate or a step with its dwell"],
    [{ rate: 0 }, "rate", TIME, "a rate above 0"],
    [{ step: 0, dwell: 1 }, "step", TIME, "a step above 0"],
    [{ step: 1, dwell: 0 }, "dwell", TIME, "a time above 0 s"],
  ];
  test.each(rows)("%j", (...row) =>
    says(row, (change) => rampError({ direction: "rising", operateDelay: 0.04, ...change } as never)),
  );
});

describe("a way there and back is refused", () => {
  const rows: readonly Row[] = [
    [{ backTo: 1.3 }, "backTo", TIME, "a level on the same side of `to` as `from`"],
    [{ backTo: 1.2 }, "backTo", TIME, "a level on the same side of `to` as `from`"],
  ];
  test.each(rows)("%j", (...row) =>
    says(row, (change) => thereAndBack({ from: 1, to: 1.2, step: 0.1, dwell: 0.5, ...change } as never)),
  );

  test.each(["from", "to", "backTo"])("for what is no number at %s", (path) => {
    const range = { from: 1, to: 1.2, step: 0.1, dwell: 0.5, backTo: 0.8, [path]: "x" };
    expect(problemsOf(() => thereAndBack(range as never))).toMatchObject([{ path }]);
  });
});

test("a time beyond a timeline is refused", () => {
  const timeline: Timeline = { wiring, segments: [{ name: "only", duration: 2, channels: state(1) }] };
  says([{}, "t", TIME, "a time from 0 to 2 s"], () => stateAt(timeline, 2.5));
  says([{}, "t", TIME, "a time from 0 to 2 s"], () => stateAt(timeline, -0.1));
  expect(problemsOf(() => stateAt(timeline, Number.NaN))).toMatchObject([{ path: "t", code: "not-finite" }]);
});

test.each(["rms", "frequency", "angle"])("a change of %s beyond all doubles is told by its field", (quantity) => {
  const growing = { i: { rms: 1, frequency: 50, slope: { [quantity]: 1e308 } } };
  const timeline: Timeline = { wiring, segments: [{ name: "only", duration: 2, channels: growing }] };
  const path = `segments[0].channels.i.slope.${quantity}`;
  says([{}, path, TIME, "a result within the range of a double"], () => stateAt(timeline, 2));
});

describe("a search is refused", () => {
  const good = { method: "linear", from: 1, to: 2, step: 0.1, hold: 1 };
  const coarse = { method: "coarse-then-fine", coarseStep: 0.5 };
  const rows: readonly Row[] = [
    [{ hold: 0 }, "hold", TIME, "a time above 0 s"],
    [{ to: 1 }, "to", TIME, "a level other than from"],
    [{ confirm: 101 }, "confirm", TIME, "a number of repetitions, a whole number from 0 to 100"],
    [{ coarseStep: 0.5 }, "coarseStep", "not-applicable", "nothing, the search is linear"],
    [{ ...coarse, coarseStep: 0.25 }, "coarseStep", TIME, "a whole multiple of the step, twice or more"],
    [{ ...coarse, coarseStep: 0.1 }, "coarseStep", TIME, "a whole multiple of the step, twice or more"],
  ];
  test.each(rows)("%j", (...row) => says(row, (change) => seekPickup({ ...good, ...change } as never).next()));
});
