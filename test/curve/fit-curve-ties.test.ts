import fc from "fast-check";
import { operateTime } from "tripwright/curve";
import { describe, expect, test } from "vitest";
import { holds } from "../support/holds.js";
import { normalNoise } from "../support/normal-noise.js";
import { fitsOf, onCurve, overNames, sameShape } from "./injections.js";

const share = fc.double({ min: 0, max: 1, noNaN: true });
const points = fc.array(
  fc.record({ multiple: share.map((x) => 1.1 + 20 * x), time: share.map((x) => 0.05 + 10 * x) }),
  { minLength: 1, maxLength: 8 },
);

describe("points that cannot tell candidates apart", () => {
  test("one point is on every curve: all are tied, in the order of the candidates, without uncertainties", () => {
    for (const uncertainty of [undefined, 0.01]) {
      const fits = fitsOf([{ multiple: 4, time: 1.5, ...(uncertainty && { standardUncertainty: uncertainty }) }]);
      expect(fits.map(({ curve }) => curve)).toEqual(overNames);
      for (const fit of fits) {
        expect(fit.degreesOfFreedom).toBe(0);
        expect(fit.relativeResidualRms).toBeLessThan(1e-15);
        expect(fit.tiedWith).toEqual(overNames.filter((name) => name !== fit.curve));
        // What the points do not say is known only where they bring it along.
        expect(fit.uncertainties !== undefined).toBe(uncertainty !== undefined);
      }
    }
  });

  test("points at one multiple say no more than one, however many they are", () => {
    holds(
      fc.property(fc.array(share, { minLength: 2, maxLength: 8 }), (times) => {
        const fits = fitsOf(times.map((x) => ({ multiple: 4, time: 1.5 + 0.1 * x })));
        expect(fits.map(({ curve }) => curve)).toEqual(overNames);
        for (const fit of fits) expect(fit.tiedWith).toHaveLength(overNames.length - 1);
      }),
    );
  });

  test("curves of one shape are tied whatever the points, and stay in the order of the candidates", () => {
    holds(
      fc.property(points, (given) => {
        const fits = fitsOf(given);
        const order = fits
          .map(({ curve }) => curve)
          .filter((curve) => sameShape.includes(curve as (typeof sameShape)[0]));
        expect(order).toEqual(sameShape);
        for (const fit of fits.filter(({ curve }) => order.includes(curve)))
          expect(fit.tiedWith).toEqual(expect.arrayContaining(sameShape.filter((name) => name !== fit.curve)));
      }),
    );
  });

  test("curves of one shape are tied even beside an exact one that tells everything else apart", () => {
    const fits = fitsOf(onCurve("ieee-very-inverse", 2, [1.5, 3, 6, 12]));
    expect(fits[0]?.curve).toBe("ieee-very-inverse");
    for (const fit of fits) {
      const family = sameShape.includes(fit.curve as (typeof sameShape)[0]) ? sameShape : [];
      expect(fit.tiedWith).toEqual(family.filter((name) => name !== fit.curve));
    }
  });

  test("tied is mutual", () => {
    holds(
      fc.property(points, (given) => {
        const fits = fitsOf(given);
        for (const one of fits)
          for (const other of fits) expect(one.tiedWith.includes(other.curve)).toBe(other.tiedWith.includes(one.curve));
      }),
    );
  });
});

describe("the gap that tells two candidates apart", () => {
  // 1/(M − 1) at M = 2 and 3 is 1 and 1/2; IEC 60255-151 curve C has 80/3 and 80/8.
  const curves = ["overvoltage-inverse", "iec-extremely-inverse"] as const;
  const pair = (uncertainty: number) => [
    { multiple: 2, time: 1, standardUncertainty: uncertainty },
    { multiple: 3, time: 0.5, standardUncertainty: uncertainty },
  ];
  // On the first exactly; the second leaves the part across (8/3, 1) of (1, 1/2): (1 − 4/3)²/(64/9 + 1) = 1/73.
  const across = 1 / 73;

  test("is 3.84 in chi-squared", () => {
    for (const [chiSquared, tied] of [
      [3.83, [curves[1]]],
      [3.85, []],
    ] as const) {
      const [best, other] = fitsOf(pair(Math.sqrt(across / chiSquared)), { curves });
      expect(best?.curve).toBe(curves[0]);
      expect(other?.chiSquared).toBeCloseTo(chiSquared, 10);
      expect(best?.tiedWith).toEqual(tied);
    }
  });

  test("is 5.99 where one fits two values more", () => {
    // On a curve of their own, so that the free constants leave nothing.
    const curve = { form: "inverse", k: 80, alpha: 2.05, c: 0.1 } as const;
    const points = (uncertainty: number) =>
      [2, 3, 5, 8, 12].map((multiple) => {
        const time = operateTime({ curve }, multiple);
        return { multiple, time, standardUncertainty: uncertainty * time };
      });
    const given = { curves: ["iec-extremely-inverse"], constants: "free" } as const;
    const all = fitsOf(points(1), given).find((fit) => typeof fit.curve === "string")?.chiSquared as number;
    for (const [chiSquared, tied] of [
      [5.98, 1],
      [6, 0],
    ] as const) {
      const [best, other] = fitsOf(points(Math.sqrt(all / chiSquared)), given);
      expect(best?.degreesOfFreedom).toBe(2);
      expect(other?.chiSquared).toBeCloseTo(chiSquared, 8);
      expect(best?.tiedWith).toHaveLength(tied);
    }
  });

  test("grows with the misfit of the best, because then the uncertainties are too small to be believed", () => {
    const misfit = [2, 2, 5, 5].map((multiple, i) => {
      const time = (1 / (multiple - 1)) * (1 + 0.2 * (-1) ** i);
      return { multiple, time, standardUncertainty: 1e-4 * time };
    });
    const [best, other] = fitsOf(misfit, { curves: ["overvoltage-inverse", "ieee-very-inverse"] });
    expect(best?.curve).toBe("overvoltage-inverse");
    expect((other?.chiSquared as number) - (best?.chiSquared as number)).toBeGreaterThan(3.84);
    expect(best?.tiedWith).toEqual(["ieee-very-inverse"]);
  });

  test("without uncertainties is a share of the misfit of the best: with two points e^(3.84 · 121/81) − 1", () => {
    // Two points with quotients p and q of curve and time leave S = (p − q)²/(p² + q²).
    const left = (p: number, q: number) => (p - q) ** 2 / (p * p + q * q);
    const limit = Math.exp((3.84 * 121) / 81);
    holds(
      fc.property(share, (x) => {
        const late = 1.01 + 0.01 * x;
        const ratio = left(8 / 3, 2 / late) / left(1, 1 / late);
        fc.pre(Math.abs(ratio / limit - 1) > 1e-6);
        const given = [
          { multiple: 2, time: 1 },
          { multiple: 3, time: 0.5 * late },
        ];
        const [best] = fitsOf(given, { curves });
        expect(best?.curve).toBe(curves[0]);
        expect(best?.tiedWith).toEqual(ratio < limit ? [curves[1]] : []);
      }),
    );
  });

  test("is wide where few points have to tell the spread as well", () => {
    // The true curve with an error of 1 % one way and the other; the other candidate is 20 % off and more.
    const spread = [2, 4, 8].map((multiple, i) => ({ multiple, time: (1 / (multiple - 1)) * (1 + 0.01 * (-1) ** i) }));
    const more = [2, 3, 4, 5, 6, 7, 8, 9].map((multiple, i) => ({
      multiple,
      time: (1 / (multiple - 1)) * (1 + 0.01 * (-1) ** i),
    }));
    const options = { curves: ["overvoltage-inverse", "ieee-very-inverse"] } as const;
    expect(fitsOf(spread.slice(0, 2), options)[0]?.tiedWith).toEqual(["ieee-very-inverse"]);
    expect(fitsOf(more, options)[0]?.tiedWith).toEqual([]);
  });

  test.each([
    ["known", true],
    ["told by the spread of three points", false],
  ])(
    "says wrongly of the true curve that it is not the one in 1 of 40 cases at most, uncertainties %s",
    (_what, known) => {
      const noise = normalNoise();
      const runs = 2000;
      let worst = 0;
      // How far the other curve is away in standard uncertainties decides; near 2 chance does its worst.
      for (const size of [0.15, 0.1]) {
        let excluded = 0;
        for (let run = 0; run < runs; run++) {
          const given = onCurve("iec-very-inverse", 0.3, [2, 4, 8]).map(({ multiple, time }) => ({
            multiple,
            time: time * Math.max(0.01, 1 + size * noise()),
            ...(known && { standardUncertainty: size * time }),
          }));
          const [best] = fitsOf(given, { curves: ["iec-very-inverse", "ieee-very-inverse"] });
          if (best?.curve !== "iec-very-inverse" && best?.tiedWith.length === 0) excluded++;
        }
        worst = Math.max(worst, excluded);
      }
      // 50 of 2000 and six standard deviations more at most; and a limit that never excludes would prove nothing.
      expect(worst).toBeLessThan(92);
      expect(worst).toBeGreaterThan(15);
    },
  );
});
