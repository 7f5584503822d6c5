import fc from "fast-check";
import { type BreakerFailureTimes, breakerFailureMargin } from "tripwright/grading";
import { describe, expect, test } from "vitest";
import { problemsOf } from "../support/failure.js";
import { holds } from "../support/holds.js";

const least = { delay: 0.15, breakerTime: 0.06, detectorReset: 0.025 } as const;

describe("the margin of a breaker failure delay", () => {
  test("is the delay less what a sound breaker and the detector take, each term with its name and sign", () => {
    const { margin, terms } = breakerFailureMargin({
      ...least,
      timerAccuracy: { percent: 1, absolute: 0.005 },
      initiation: 0.01,
      tripping: 0.008,
    });
    // 150 − 5 + 10 − 8 − 60 − 25.
    expect(margin).toBe(0.062);
    expect(terms).toEqual([
      { name: "delay", seconds: 0.15 },
      { name: "timer early", seconds: -0.005 },
      { name: "initiation", seconds: 0.01 },
      { name: "tripping", seconds: -0.008 },
      { name: "breaker", seconds: -0.06 },
      { name: "detector reset", seconds: -0.025 },
    ]);
  });

  test("agrees with the usual sum in cycles at 60 Hz (common practice, from memory): 9 = 3 + 1.5 + 4.5", () => {
    const cycles = (n: number) => n / 60;
    const { margin } = breakerFailureMargin({
      delay: cycles(9),
      breakerTime: cycles(3),
      detectorReset: cycles(1.5),
    });
    expect(margin).toBe(0.075);
  });

  test("on what is wanted it is long enough, a microsecond below it is not", () => {
    expect(breakerFailureMargin({ ...least, safetyTime: 0.065 }).isLongEnough).toBe(true);
    expect(breakerFailureMargin({ ...least, safetyTime: "0.065001" }).isLongEnough).toBe(false);
    const short = breakerFailureMargin({ ...least, delay: 0.08 });
    expect(short).toMatchObject({ margin: -0.005, isLongEnough: false });
  });

  test("where only an upper limit of the timer is declared nothing is early", () => {
    const { margin } = breakerFailureMargin({ ...least, timerAccuracy: { absolute: 0.01, side: "high" } });
    expect(margin).toBe(0.065);
  });
});

describe("the clearing time of a breaker that fails", () => {
  const all = { ...least, protection: 0.03, initiation: 0.01, lockout: 0.012, timerAccuracy: { absolute: 0.005 } };

  test("runs from the fault to the last breaker around", () => {
    // 30 + 10 + 150 + 5 + 12 + 60.
    expect(breakerFailureMargin(all).clearing.total).toBe(0.267);
    expect(breakerFailureMargin({ ...all, backupBreakerTime: 0.1 }).clearing.total).toBe(0.307);
    expect(breakerFailureMargin(all).clearing.terms.map(({ name }) => name)).toEqual([
      "protection",
      "initiation",
      "delay",
      "timer late",
      "lockout",
      "backup breaker",
    ]);
  });

  test("leaves a reserve to the critical time, or is too late", () => {
    expect(breakerFailureMargin({ ...all, criticalTime: 0.3 }).reserve).toBe(0.033);
    expect(breakerFailureMargin({ ...all, criticalTime: 0.25 }).reserve).toBe(-0.017);
    expect(breakerFailureMargin(all).reserve).toBeUndefined();
  });
});

const milliseconds = fc.integer({ min: 0, max: 500 }).map((ms) => ms / 1000);
const times: fc.Arbitrary<BreakerFailureTimes> = fc.record(
  {
    delay: fc.integer({ min: 1, max: 500 }).map((ms) => ms / 1000),
    breakerTime: milliseconds,
    detectorReset: milliseconds,
    initiation: milliseconds,
    tripping: milliseconds,
    protection: milliseconds,
    lockout: milliseconds,
    backupBreakerTime: milliseconds,
    criticalTime: milliseconds,
  },
  { requiredKeys: ["delay", "breakerTime", "detectorReset"] },
);

test("more delay is as much more margin and as much less reserve, and the terms add up", () => {
  holds(
    fc.property(times, milliseconds, (given, more) => {
      const now = breakerFailureMargin({ ...given, criticalTime: 0.4 });
      const later = breakerFailureMargin({ ...given, criticalTime: 0.4, delay: Number(given.delay) + more });
      expect(later.margin - now.margin).toBeCloseTo(more, 12);
      expect((now.reserve ?? Number.NaN) - (later.reserve ?? Number.NaN)).toBeCloseTo(more, 12);
      expect(now.terms.reduce((sum, { seconds }) => sum + seconds, 0)).toBeCloseTo(now.margin, 12);
      expect(now.clearing.terms.reduce((sum, { seconds }) => sum + seconds, 0)).toBeCloseTo(now.clearing.total, 12);
    }),
  );
});

test.each([
  [{ ...least, delay: 0 }, "delay"],
  [{ ...least, delay: "9 cycles" }, "delay"],
  [{ ...least, breakerTime: -0.1 }, "breakerTime"],
  [{ delay: 0.1, detectorReset: 0.02 }, "breakerTime"],
  [{ delay: 0.1, breakerTime: 0.06 }, "detectorReset"],
  [{ ...least, lockout: Number.NaN }, "lockout"],
  [{ ...least, criticalTime: -1 }, "criticalTime"],
  [{ ...least, timerAccuracy: {} }, "timerAccuracy"],
  [{ ...least, tripTime: 1 }, "tripTime"],
])("%j is refused by its field", (given, path) => {
  expect(problemsOf(() => breakerFailureMargin(given as never))).toMatchObject([{ path }]);
});

test.each([
  ["delay", { ...least, delay: -1 }, "a delay above 0 s"],
  ["breakerTime", { ...least, breakerTime: -1 }, "a time until the breaker has interrupted of 0 s or more"],
  ["detectorReset", { ...least, detectorReset: -1 }, "a time until the current detector has let go of 0 s or more"],
  ["safetyTime", { ...least, safetyTime: -1 }, "a time to spare of 0 s or more"],
])("%s is asked for in seconds, by what it is", (path, given, expected) => {
  const [problem] = problemsOf(() => breakerFailureMargin(given));
  expect(problem?.path).toBe(path);
  expect(problem?.expected).toContain(expected);
});

const most = 1.7e308;
test.each([
  ["the margin", { ...least, delay: most, initiation: most }],
  ["the clearing", { ...least, delay: most, protection: most }],
])("%s beyond doubles is refused as a whole", (_, given) => {
  expect(problemsOf(() => breakerFailureMargin(given))).toMatchObject([{ code: "out-of-range", path: "" }]);
});
