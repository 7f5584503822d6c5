/** Angles against bands that reach as far as they like: one way round for verdict, error, batches, changes and chances. */
import fc from "fast-check";
import { type Band, band, changeBetween, conformanceProbability, grade, gradeAll, verdicts } from "tripwright/grading";
import { describe, expect, test } from "vitest";
import { holds } from "../support/holds.js";

const circle = { period: 360 } as const;
const angles = fc.integer({ min: -360, max: 360 });
const reaches = fc.integer({ min: 0, max: 250 });
const bands = fc.tuple(angles, reaches, reaches).map(([nominal, below, above]): Required<Band> => {
  return { nominal, low: nominal - below, high: nominal + above, ...circle };
});

/** By how much an angle lies beyond the nearer limit, over all ways round; 0 or less within. */
const beyond = (angle: number, { low, high }: Required<Band>): number =>
  Math.min(...[-3, -2, -1, 0, 1, 2, 3].map((turn) => Math.max(low - angle - 360 * turn, angle + 360 * turn - high)));

describe("an angle against its limits", () => {
  test("is within where any way round lies within them", () => {
    const toTwoHundred = band(0, { below: { absolute: 0 }, above: { absolute: 200 }, ...circle });
    expect(grade(190, toTwoHundred)).toEqual({ verdict: "within", error: 190, used: 0.95 });
    expect(grade(-170, toTwoHundred)).toEqual({ verdict: "within", error: 190, used: 0.95 });
    expect(grade(250, toTwoHundred)).toEqual({ verdict: "outside", error: 250, used: 1.25, outsideBy: 50 });
    expect(grade(-30, toTwoHundred)).toEqual({ verdict: "outside", error: -30, outsideBy: 30 });
    const nearlyAll = { nominal: 0, low: -170, high: 180, ...circle };
    for (const turn of [-360, 0, 360])
      expect(grade(180 + turn, nearlyAll)).toEqual({ verdict: "within", error: 180, used: 1 });
    expect(grade(-175, nearlyAll)).toMatchObject({ verdict: "outside", outsideBy: 5 });
  });

  test("lies half a turn off by the way that leads", () => {
    const error = (nominal: number, measured: number) =>
      grade(measured, band(nominal, { absolute: 3, ...circle })).error;
    const opposite = [
      [0, 180],
      [-120, 60],
      [120, -60],
      [0, -180],
      [180, 0],
      [540, 0],
    ] as const;
    for (const [nominal, measured] of opposite) expect(error(nominal, measured)).toBe(180);
    expect(grade(180, { nominal: 0, ...circle }).error).toBe(180);
    expect(grade(-180, { nominal: 0, high: 10, ...circle }).error).toBe(180);
  });

  test("has an error above −180° and up to 180° where both limits reach equally far, with no limits and with one", () => {
    holds(
      fc.property(angles, angles, fc.integer({ min: 0, max: 300 }), (nominal, measured, absolute) => {
        for (const side of ["both", "low", "high"] as const) {
          const { error } = grade(measured, band(nominal, { absolute, side, ...circle }));
          expect(error > -180 && error <= 180 && (measured - nominal - error) % 360 === 0).toBe(true);
        }
      }),
    );
  });

  test("has verdict, error and overshoot that go together, as the nearest way round says", () => {
    holds(
      fc.property(bands, angles, fc.integer({ min: 0, max: 20 }), (accepted, measured, expandedUncertainty) => {
        const over = beyond(measured, accepted);
        const { verdict, error, outsideBy } = grade(measured, accepted);
        expect(verdict).toBe(over <= 0 ? "within" : "outside");
        expect(outsideBy).toBe(over > 0 ? over : undefined);
        expect(Math.abs((measured - accepted.nominal - error) % 360)).toBe(0);
        const at = accepted.nominal + error;
        expect(Math.max(accepted.low - at, at - accepted.high)).toBe(over);
        const three = grade(measured, accepted, { rule: "three-way", expandedUncertainty });
        const undecided = over > -expandedUncertainty && over <= expandedUncertainty;
        expect(three.verdict).toBe(undecided ? "undecided" : verdict);
      }),
      400,
    );
  });

  test("gets the same verdict one by one, in a batch and as a stage of a change, and a chance that agrees", () => {
    holds(
      fc.property(bands, angles, angles, (accepted, before, after) => {
        const graded = [before, after].map((angle) => grade(angle, accepted));
        const batch = gradeAll([before, after], { band: accepted });
        expect(Array.from(batch, (code) => verdicts[code])).toEqual(graded.map(({ verdict }) => verdict));
        const changed = changeBetween({ before: { value: before }, after: { value: after }, band: accepted });
        expect([changed.before, changed.after]).toEqual(graded);
        expect(Math.abs((changed.change - after + before) % 360)).toBe(0);
        for (const [i, angle] of [before, after].entries()) {
          const exact = conformanceProbability(angle, accepted, { standardUncertainty: 0 });
          expect(exact).toBe(graded[i]?.verdict === "within" ? 1 : 0);
          // On a limit it is a half; a degree off it is ten standard uncertainties.
          const chance = conformanceProbability(angle, accepted, { standardUncertainty: 0.1 });
          if (beyond(angle, accepted) !== 0) expect(chance).toBeCloseTo(exact, 12);
        }
      }),
      300,
    );
  });
});
