import fc from "fast-check";
import { band, grade } from "tripwright/grading";
import { describe, expect, test } from "vitest";
import { type TypedDecimal, textOf, typedDecimals, unitsAt } from "../support/arbitraries.js";
import { holds } from "../support/holds.js";

/** Nominal · percent/100 of what is typed below has at most seven places, and limits at most fifteen digits. */
const PLACES = 7;
const nominals = typedDecimals({ digits: 6, places: 3 });
const percents = typedDecimals({ digits: 3, places: 2, min: 0 });
const text = (units: bigint): string => textOf(units, PLACES);

/** The exact limits in units of 10^−7. */
function limits(nominal: TypedDecimal, percent: TypedDecimal): [bigint, bigint] {
  const center = unitsAt(PLACES, nominal);
  const scaled = center * percent.units;
  const half = (scaled < 0n ? -scaled : scaled) / 10n ** BigInt(percent.places + 2);
  return [center - half, center + half];
}

const bothWays = (reading: string, accepted: Parameters<typeof grade>[1]) => [
  grade(reading, accepted).verdict,
  grade(Number(reading), accepted).verdict,
];
const WITHIN = ["within", "within"];
const OUTSIDE = ["outside", "outside"];

describe("a reading of typed decimals", () => {
  test("on the exact limit is within, one unit of its last digit beyond is outside", () => {
    holds(
      fc.property(nominals, percents, (nominal, percent) => {
        const [low, high] = limits(nominal, percent);
        const accepted = band(nominal.text, { percent: percent.text });
        expect([bothWays(text(low), accepted), bothWays(text(high), accepted)]).toEqual([WITHIN, WITHIN]);
        expect([bothWays(text(low - 1n), accepted), bothWays(text(high + 1n), accepted)]).toEqual([OUTSIDE, OUTSIDE]);
      }),
      300,
    );
  });

  test("on the exact limit uses the whole of the tolerance, exactly", () => {
    holds(
      fc.property(nominals, percents, (nominal, percent) => {
        const [low, high] = limits(nominal, percent);
        fc.pre(low !== high);
        const accepted = band(nominal.text, { percent: percent.text });
        for (const limit of [low, high]) {
          expect(grade(text(limit), accepted).used).toBe(1);
          expect(grade(Number(text(limit)), accepted).used).toBe(1);
        }
      }),
    );
  });

  test("is told from the limit by the fifteenth digit", () => {
    const places = 14;
    const units = fc.integer({ min: 1, max: 4 * 10 ** places }).map(BigInt);
    holds(
      fc.property(units, units, (center, half) => {
        const accepted = band(textOf(center, places), { absolute: textOf(half, places) });
        const verdicts = (limit: bigint, out: bigint) =>
          [limit, limit + out].map((reading) => grade(textOf(reading, places), accepted).verdict);
        expect(verdicts(center + half, 1n)).toEqual(["within", "outside"]);
        expect(verdicts(center - half, -1n)).toEqual(["within", "outside"]);
      }),
    );
  });

  test("anywhere gets the verdict that whole numbers give", () => {
    holds(
      fc.property(nominals, percents, nominals, (nominal, percent, reading) => {
        const [low, high] = limits(nominal, percent);
        const measured = unitsAt(PLACES, reading);
        const verdict = low <= measured && measured <= high ? "within" : "outside";
        expect(grade(reading.text, band(nominal.text, { percent: percent.text })).verdict).toBe(verdict);
      }),
    );
  });

  test("one unit beyond a one-sided limit is outside, and any distance on the other side is within", () => {
    holds(
      fc.property(nominals, percents, fc.nat(), (nominal, percent, far) => {
        const [low, high] = limits(nominal, percent);
        const [atLeast, atMost] = (["low", "high"] as const).map((side) =>
          band(nominal.text, { percent: percent.text, side }),
        );
        expect(grade(text(low - 1n), atLeast!).verdict).toBe("outside");
        expect(grade(text(low + BigInt(far)), atLeast!).verdict).toBe("within");
        expect(grade(text(high + 1n), atMost!).verdict).toBe("outside");
        expect(grade(text(high - BigInt(far)), atMost!).verdict).toBe("within");
      }),
    );
  });
});

describe.each([50, 60])("a reading in cycles of %i Hz", (hertz) => {
  const cycles = fc.integer({ min: 1, max: 300 });

  test("n ± m cycles against a band of n ± m cycles is on the limit, one more is outside", () => {
    holds(
      fc.property(cycles, cycles, (n, m) => {
        const accepted = band(n / hertz, { absolute: m / hertz });
        expect([(n + m) / hertz, (n - m) / hertz].map((t) => grade(t, accepted))).toMatchObject([
          { verdict: "within", used: 1 },
          { verdict: "within", used: 1 },
        ]);
        expect([n + m + 1, n - m - 1].map((c) => grade(c / hertz, accepted).verdict)).toEqual(OUTSIDE);
      }),
    );
  });

  test("on a limit drawn in by an uncertainty in cycles is within the guarded rule, one more is outside", () => {
    holds(
      fc.property(cycles, cycles, cycles, (n, m, u) => {
        fc.pre(u < m);
        const accepted = band(n / hertz, { absolute: m / hertz });
        const guarded = (c: number) =>
          grade(c / hertz, accepted, { rule: "guarded", expandedUncertainty: u / hertz }).verdict;
        expect([n + m - u, n - m + u].map(guarded)).toEqual(WITHIN);
        expect([n + m - u + 1, n - m + u - 1].map(guarded)).toEqual(OUTSIDE);
      }),
    );
  });
});
