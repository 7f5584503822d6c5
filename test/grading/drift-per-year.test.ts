/** How a value moves over the years, and when it comes to a limit. */
import { Decimal } from "decimal.js";
import fc from "fast-check";
import { type DatedReading, type Drift, driftPerYear } from "tripwright/grading";
import { describe, expect, test } from "vitest";
import { holds } from "../support/holds.js";

const D = Decimal.clone({ defaults: true, precision: 60 });
/** 146097 days in 400 years of the Gregorian calendar. */
const YEAR = (146_097 / 400) * 86_400_000;
const START = Date.UTC(2019, 6, 1);
/** Two-sided 95 %: normal (NIST/SEMATECH 7.2), Student's t of one and two degrees of freedom in closed form. */
const NORMAL = 1.959963984540054;
const STUDENT = [Math.tan(0.475 * Math.PI), 0.95 * Math.sqrt(2 / (0.05 * 1.95))] as const;

/** Days of up to ten years, each with a value and an uncertainty in thousandths. */
const series = (minLength: number, maxLength: number) =>
  fc
    .uniqueArray(
      fc.record({
        day: fc.integer({ min: -1800, max: 1800 }),
        value: fc.integer({ min: -9999, max: 9999 }),
        width: fc.integer({ min: 1, max: 9999 }),
      }),
      { minLength, maxLength, selector: ({ day }) => day },
    )
    .map((drawn) =>
      drawn.map(({ day, value, width }) => ({
        takenAt: new Date(START + day * 86_400_000).toISOString(),
        value: value / 1000,
        standard: width / 1000,
      })),
    );

const without = (readings: readonly DatedReading[]) => readings.map(({ takenAt, value }) => ({ takenAt, value }));

function driftOf(...given: Parameters<typeof driftPerYear>): Drift {
  const drift = driftPerYear(...given);
  if (drift.kind === "none") throw new Error(drift.reason);
  return drift;
}

/** The normal equations as they stand, in 60 digits. */
function formulas(readings: readonly DatedReading[]) {
  const [n, ts] = [readings.length, readings.map(({ takenAt }) => new D(Date.parse(takenAt)).div(YEAR))];
  const total = (term: (t: Decimal, y: Decimal, u: Decimal) => Decimal) =>
    D.sum(...ts.map((t, i) => term(t, new D(readings[i]?.value ?? 0), new D(readings[i]?.standard ?? 0))));
  const [t0, y0] = [total((t) => t).div(n), total((_, y) => y).div(n)];
  const squares = total((t) => t.minus(t0).pow(2));
  const slope = total((t, y) => t.minus(t0).times(y.minus(y0))).div(squares);
  const onLine = (t: Decimal) => y0.plus(slope.times(t.minus(t0)));
  const scatter = n === 2 ? new D(0) : total((t, y) => y.minus(onLine(t)).pow(2)).div(n - 2);
  return {
    slope: slope.toNumber(),
    latest: onLine(D.max(...ts)).toNumber(),
    fromScatter: scatter.div(squares).sqrt().toNumber(),
    fromReadings: total((t, _, u) => t.minus(t0).times(u).pow(2))
      .sqrt()
      .div(squares)
      .toNumber(),
    rise:
      20 /
      D.max(...ts)
        .minus(D.min(...ts))
        .toNumber(),
  };
}

describe("the drift per year", () => {
  test("is the slope of the least-squares line in 60 digits, and its end that of the last day", () => {
    holds(
      fc.property(series(2, 9), (readings) => {
        const [found, exact] = [driftOf(without(readings)), formulas(readings)];
        // The greatest spread of the values over that of the days.
        expect(Math.abs(found.perYear - exact.slope)).toBeLessThan(1e-14 * exact.rise);
        expect(Math.abs(found.latest - exact.latest)).toBeLessThan(1e-12);
        expect(found.limit).toBeUndefined();
      }),
    );
  });

  test("counts years of the calendar: 400 in 400 years are 1, in any order and any zone", () => {
    const [early, late] = [
      { takenAt: "2000-01-01", value: 10 },
      { takenAt: "2400-01-01T02:00+02:00", value: 410 },
    ];
    expect(driftPerYear([early, late])).toEqual({ kind: "found", perYear: 1, latest: 410 });
    expect(driftPerYear([late, early])).toEqual({ kind: "found", perYear: 1, latest: 410 });
    const between = { takenAt: "2200-01-01", value: 210 };
    expect(driftOf([between, late, early]).perYear).toBeCloseTo(1, 5);
  });

  test("does not hang on the order of the readings", () => {
    holds(
      fc.property(series(2, 6), (readings) => {
        const [there, back] = [driftOf(readings), driftOf([...readings].reverse())];
        const { rise } = formulas(readings);
        expect(Math.abs(there.perYear - back.perYear)).toBeLessThan(1e-14 * rise);
        expect(there.latest).toBeCloseTo(back.latest, 11);
        expect((back.standard ?? Number.NaN) / (there.standard ?? Number.NaN)).toBeCloseTo(1, 11);
      }),
    );
  });

  test("of readings of one time is none, be they two or more", () => {
    const at = (takenAt: string) => ({ takenAt, value: takenAt.length });
    const none = { kind: "none", reason: "all-at-one-time" };
    expect(driftPerYear([at("2024-02-29"), at("2024-02-29T00:00Z")])).toEqual(none);
    expect(driftPerYear([at("2024-02-29"), at("2024-02-29T00:00Z"), at("2024-02-29T01:00+01:00")])).toEqual(none);
  });
});

describe("the uncertainty of a drift", () => {
  test("is the greater one of scatter and readings, and the drift significant beyond its 95 %", () => {
    holds(
      fc.property(series(3, 4), fc.constantFrom(0, 0.001, 1), (drawn, scale) => {
        const readings = drawn.map((reading) => ({ ...reading, standard: reading.standard * scale }));
        const [found, alone, exact] = [driftOf(readings), driftOf(without(readings)), formulas(readings)];
        const { slope, fromScatter, fromReadings } = exact;
        fc.pre(fromScatter > 1e-9);
        expect((found.standard ?? Number.NaN) / Math.max(fromScatter, fromReadings)).toBeCloseTo(1, 10);
        expect((alone.standard ?? Number.NaN) / fromScatter).toBeCloseTo(1, 10);
        const student = fromScatter * (STUDENT[readings.length - 3] as number);
        const expanded = Math.max(student, fromReadings * NORMAL);
        fc.pre([student, expanded].every((size) => Math.abs(Math.abs(slope) / size - 1) > 1e-9));
        expect(found.significant).toBe(Math.abs(slope) > expanded);
        expect(alone.significant).toBe(Math.abs(slope) > student);
      }),
    );
  });

  test("of two readings is that of their difference over the years between, and unknown without theirs", () => {
    const two = (value: number, more: object = {}) => [
      { takenAt: "2000-01-01", value: 1, ...more },
      { takenAt: "2400-01-01", value, ...more },
    ];
    expect(driftPerYear(two(3))).toEqual({ kind: "found", perYear: 0.005, latest: 3 });
    const [early, late] = two(1001);
    const known = driftOf([
      { ...(early as DatedReading), standard: 300 },
      { ...(late as DatedReading), standard: 400 },
    ]);
    // √(300² + 400²)/400 years; 1000/400 years are twice that.
    expect(known.standard).toBeCloseTo(1.25, 12);
    expect(known.significant).toBe(true);
    // √2 · 1.96 = 2.772.
    expect(driftOf(two(1 + 2.77, { standard: 1 })).significant).toBe(false);
    expect(driftOf(two(1 - 2.77, { standard: 1 })).significant).toBe(false);
    expect(driftOf(two(1 + 2.775, { standard: 1 })).significant).toBe(true);
    expect(driftOf(two(1 - 2.775, { standard: 1 })).significant).toBe(true);
  });

  test("of none is 0, within which nothing moves and beyond which anything does", () => {
    const exact = (value: number) =>
      driftOf(["2000-01-01", "2400-01-01"].map((takenAt, i) => ({ takenAt, value: i * value, standard: 0 })));
    expect(exact(0)).toEqual({ kind: "found", perYear: 0, standard: 0, significant: false, latest: 0 });
    expect(exact(400)).toEqual({ kind: "found", perYear: 1, standard: 0, significant: true, latest: 400 });
  });
});
