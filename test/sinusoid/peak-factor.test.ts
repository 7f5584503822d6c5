import fc from "fast-check";
import { exactPeakFactor, firstPeak, offsetSinusoid, peakFactor } from "tripwright/sinusoid";
import { describe, expect, test } from "vitest";
import { D, exactly, ulpsOff } from "../base/reference.js";
import { spread } from "../base/spread.js";
import { problemsOf } from "../support/failure.js";
import { holds } from "../support/holds.js";

const ratios = fc.double({ min: 0.01, max: 1e4, noNaN: true });

describe("the peak factor κ", () => {
  test("is that of 50-digit values", () => {
    holds(
      fc.property(ratios, (xOverR) => {
        const kappa = D.exp(new D(-3).div(exactly(xOverR)))
          .times("0.98")
          .plus("1.02");
        expect(ulpsOff(peakFactor(xOverR), kappa)).toBeLessThanOrEqual(2);
      }),
    );
  });

  test("is 1.02 without inductance and 2 without resistance", () => {
    for (const none of [0, -0]) expect(peakFactor(none)).toBe(1.02);
    expect(peakFactor(Number.POSITIVE_INFINITY)).toBe(2);
  });

  test("lies between 0.4 % below and 2 % above the exact one", () => {
    holds(
      fc.property(fc.oneof(ratios, spread(0.01, 30)), (xOverR) => {
        const error = peakFactor(xOverR) / exactPeakFactor(xOverR) - 1;
        expect(error).toBeGreaterThan(-0.004);
        expect(error).toBeLessThanOrEqual(0.02 + 1e-12);
      }),
    );
    const at = (xOverR: number): string => (100 * (peakFactor(xOverR) / exactPeakFactor(xOverR) - 1)).toFixed(1);
    expect([0.01, 1.5, 8].map(at)).toEqual(["2.0", "-0.4", "0.6"]);
  });
});

describe("the exact peak factor", () => {
  test("is within 4 units in the last place of 50 digits", () => {
    holds(
      fc.property(ratios, (xOverR) => {
        // i = sin(x − φ) + sin φ · exp(−x/(X/R)), with x in radians; its crest by Newton's method from half a cycle.
        const ratio = exactly(xOverR);
        const phi = D.atan(ratio);
        const at = (x: typeof ratio) => ({ left: phi.sin().times(D.exp(x.neg().div(ratio))), turned: x.minus(phi) });
        let x = phi.plus(D.acos(0));
        for (let round = 0; round < 8; round++) {
          const { left, turned } = at(x);
          const slope = turned.cos().minus(left.div(ratio));
          x = x.plus(slope.div(turned.sin().minus(left.div(ratio.pow(2)))));
        }
        const { left, turned } = at(x);
        expect(ulpsOff(exactPeakFactor(xOverR), turned.sin().plus(left))).toBeLessThanOrEqual(4);
      }),
      25,
    );
  });

  test("rises with X/R from 1 to 2", () => {
    for (const none of [0, 1e-310, 1e-200]) expect(exactPeakFactor(none)).toBe(1);
    for (const infinite of [1e300, Number.POSITIVE_INFINITY]) expect(exactPeakFactor(infinite)).toBe(2);
    holds(
      fc.property(spread(0.2, 200), spread(1.001, 2), (xOverR, more) => {
        expect(exactPeakFactor(more * xOverR)).toBeGreaterThan(exactPeakFactor(xOverR));
      }),
      100,
    );
  });

  test("is that of the highest of all peaks, wherever on the wave the fault begins", () => {
    holds(
      fc.property(spread(0.01, 100), spread(-180, 180), (xOverR, inception) => {
        const { peak } = firstPeak(offsetSinusoid({ rms: 1, frequency: 50, inception, xOverR }));
        expect(peak / Math.SQRT2).toBeLessThanOrEqual(exactPeakFactor(xOverR) * (1 + 1e-14));
      }),
      100,
    );
  });
});

test("peak factors are refused for an X/R ratio that is no number of 0 or more", () => {
  for (const factor of [peakFactor, exactPeakFactor]) {
    for (const [xOverR, code] of [
      [-1, "out-of-range"],
      [Number.NaN, "not-finite"],
      ["10", "wrong-type"],
      [null, "wrong-type"],
      [undefined, "missing"],
    ] as const)
      expect(problemsOf(() => factor(xOverR as never))).toMatchObject([{ path: "xOverR", code }]);
  }
});
