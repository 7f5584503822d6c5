/** When a drift comes to a limit, and what is refused. */
import fc from "fast-check";
import { driftPerYear } from "tripwright/grading";
import { describe, expect, test } from "vitest";
import { problemsOf } from "../support/failure.js";
import { holds } from "../support/holds.js";

/** One a year, or less: values 400 years apart. */
const line = (from: number, to: number) => [
  { takenAt: "2000-01-01", value: from },
  { takenAt: "2400-01-01", value: to },
];
const limitOf = (from: number, to: number, limits: { readonly low?: number; readonly high?: number }) => {
  const drift = driftPerYear(line(from, to), { band: { nominal: 0, ...limits } });
  return drift.kind === "found" ? drift.limit : drift;
};

describe("the limit that a drift comes to", () => {
  const both = { low: -1000, high: 1000 };

  test("lies the way it goes, as many years off as it takes", () => {
    expect(limitOf(0, 400, both)).toEqual({ kind: "found", side: "high", years: 600 });
    expect(limitOf(0, -400, both)).toEqual({ kind: "found", side: "low", years: 600 });
    expect(limitOf(0, 800, both)).toEqual({ kind: "found", side: "high", years: 100 });
    expect(limitOf(-900, -100, both)).toEqual({ kind: "found", side: "high", years: 550 });
  });

  test("is where the line is then, and mirrored for mirrored readings", () => {
    const values = fc.integer({ min: -1000, max: 1000 });
    holds(
      fc.property(values, values, (from, to) => {
        fc.pre(from !== to);
        const found = limitOf(from, to, both);
        if (found?.kind !== "found") throw new Error("a limit was to be found");
        const { side, years } = found;
        expect(side).toBe(to > from ? "high" : "low");
        expect(to + ((to - from) / 400) * years).toBeCloseTo(both[side], 9);
        expect(limitOf(-from, -to, both)).toEqual({ kind: "found", side: side === "low" ? "high" : "low", years });
      }),
    );
  });

  test("on a limit is that limit now, or the other one, and one unit in the last place beyond it is outside", () => {
    expect(limitOf(600, 1000, both)).toEqual({ kind: "found", side: "high", years: 0 });
    expect(limitOf(-600, -1000, both)).toEqual({ kind: "found", side: "low", years: 0 });
    expect(limitOf(1400, 1000, both)).toEqual({ kind: "found", side: "low", years: 2000 });
    expect(limitOf(-1400, -1000, both)).toEqual({ kind: "found", side: "high", years: 2000 });
    const outside = { kind: "none", reason: "outside-already" };
    const beside = 1 + Number.EPSILON;
    expect(limitOf(beside, beside, { high: 1 })).toEqual(outside);
    expect(limitOf(-beside, -beside, { low: -1 })).toEqual(outside);
    expect(limitOf(1400, 1200, both)).toEqual(outside);
    expect(limitOf(-1400, -1200, both)).toEqual(outside);
  });

  test("is reached where the last of two readings is on it, whatever the days between them", () => {
    const cents = fc.integer({ min: 1, max: 300 });
    holds(
      fc.property(cents, cents, fc.integer({ min: 1, max: 2000 }), (from, by, days) => {
        const high = (from + by) / 100;
        const takenAt = new Date(Date.UTC(2020, 0, 1 + days)).toISOString();
        const readings = [
          { takenAt: "2020-01-01", value: from / 100 },
          { takenAt, value: high },
        ] as const;
        for (const order of [readings, [...readings].reverse()]) {
          const drift = driftPerYear(order, { band: { nominal: 0, high } });
          expect(drift).toMatchObject({ latest: high, limit: { kind: "found", side: "high", years: 0 } });
        }
      }),
    );
  });

  test("is reached where the line of several readings ends on it, but for rounding, and not a millionth beyond", () => {
    const cents = fc.integer({ min: 1, max: 300 });
    holds(
      fc.property(cents, cents, fc.integer({ min: 2, max: 9 }), (from, by, steps) => {
        const readings = Array.from({ length: steps + 1 }, (_, i) => ({
          takenAt: new Date(Date.UTC(2020, 0, 1 + 365 * i)).toISOString(),
          value: (from + by * i) / 100,
        }));
        const end = (from + by * steps) / 100;
        for (const side of ["high", "low"] as const) {
          const sign = side === "high" ? 1 : -1;
          const turned = readings.map(({ takenAt, value }) => ({ takenAt, value: sign * value }));
          const limit = (at: number) => {
            const drift = driftPerYear(turned, { band: { nominal: 0, [side]: sign * at } });
            return drift.kind === "found" ? drift.limit : drift;
          };
          const onIt = limit(end);
          expect(onIt).toMatchObject({ kind: "found", side });
          expect(onIt?.kind === "found" && onIt.years).toBeGreaterThanOrEqual(0);
          expect(onIt?.kind === "found" && onIt.years).toBeLessThan(1e-9);
          expect(limit(end * (1 - 1e-6))).toEqual({ kind: "none", reason: "outside-already" });
        }
      }),
    );
  });

  test("is none where nothing moves, or so little that no double holds the years", () => {
    const still = { kind: "none", reason: "no-drift" };
    expect(limitOf(5, 5, both)).toEqual(still);
    expect(limitOf(5, 5, {})).toEqual(still);
    expect(limitOf(0, 1e-300, { high: 1e100 })).toEqual(still);
    expect(limitOf(0, -1e-300, { low: -1e100 })).toEqual(still);
  });

  test("is none where the band is open that way, and the only one where it is open the other way", () => {
    const open = { kind: "none", reason: "no-limit" };
    expect(limitOf(0, 400, { low: -1 })).toEqual(open);
    expect(limitOf(0, -400, { high: 1 })).toEqual(open);
    expect(limitOf(0, 400, { high: 1000 })).toEqual({ kind: "found", side: "high", years: 600 });
    expect(limitOf(0, -400, { low: -1000 })).toEqual({ kind: "found", side: "low", years: 600 });
  });
});

describe("a drift is refused", () => {
  const good = { takenAt: "2024-11-20", value: 1 };
  const later = { takenAt: "2025-11-20", value: 1 };
  const known = { ...good, standard: 0.1 };
  const days = (...values: readonly number[]) => values.map((value, i) => ({ takenAt: `2025-11-0${i + 1}`, value }));

  test.each([
    [undefined, "missing", "readings"],
    [null, "wrong-type", "readings"],
    ["2024-11-20", "wrong-type", "readings"],
    [[], "wrong-length", "readings"],
    [[good], "wrong-length", "readings"],
    [[null, good], "wrong-type", "readings[0]"],
    [[undefined, good], "missing", "readings[0]"],
    [[good, null], "wrong-type", "readings[1]"],
    [[good, { value: 1 }], "missing", "readings[1].takenAt"],
    [[good, { ...good, takenAt: "2025-02-29" }], "unreadable", "readings[1].takenAt"],
    [[good, { takenAt: "2025-11-20" }], "missing", "readings[1].value"],
    [[good, { ...later, value: Number.NaN }], "not-finite", "readings[1].value"],
    [[known, later], "missing", "readings[1].standard"],
    [[good, { ...later, standard: 0.1 }], "conflict", "readings[1].standard"],
    [[known, { ...later, standard: -0.1 }], "out-of-range", "readings[1].standard"],
    [[{ ...good, standard: Number.NaN }, known], "not-finite", "readings[0].standard"],
    // Two days apart, so that a year of it is beyond doubles; the line of three; the squares of uncertainties.
    [days(-1.7e308, 1.7e308), "not-finite", "readings"],
    [days(-1e306, 1e306), "not-finite", "readings"],
    [days(1, 1e306, 2), "out-of-range", "readings"],
    [[known, { ...known, takenAt: "2024-11-21", standard: 1e308 }], "not-finite", "readings"],
  ])("for %j: %s at %s", (readings, code, path) => {
    expect(problemsOf(() => driftPerYear(readings as never))).toMatchObject([{ code, path }]);
  });

  test.each([
    [{ band: null }, "wrong-type", "band"],
    [{ band: { nominal: 1, low: 2, high: 0 } }, "out-of-range", "band.high"],
    [{ band: { nominal: 0, low: -1, high: 1, period: 360 } }, "not-applicable", "band.period"],
    [{ bands: { nominal: 0 } }, "unknown-key", "bands"],
    [null, "wrong-type", ""],
  ])("about %j: %s at %s", (about, code, path) => {
    expect(problemsOf(() => driftPerYear([good, later], about as never))).toMatchObject([{ code, path }]);
  });

  test("for an uncertainty that the first reading does not have, which is what is printed", () => {
    const [problem] = problemsOf(() => driftPerYear([good, { ...later, standard: 0.125 }]));
    expect(problem?.received).toBe("0.125");
  });
});
