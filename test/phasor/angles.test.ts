import fc from "fast-check";
import { angle, angleBetween, divide, meanAngle, normalizeAngle, polar, unwrapAngles } from "tripwright/phasor";
import { describe, expect, test } from "vitest";
import { cosineOf, D, exactly, PI, type Reference, sineOf, turned, ulpsOff } from "../base/reference.js";
import { spread } from "../base/spread.js";
import { holds } from "../support/holds.js";
import { angles, extremePhasors, isZero, phasors } from "./phasors.js";

const anyAngle = fc.oneof(
  fc.double({ noNaN: true, noDefaultInfinity: true }),
  spread(-1000, 1000),
  fc.integer({ min: -40, max: 40 }).map((n) => 45 * n),
  // Around half a turn and a whole one, where differences round worst.
  fc.tuple(fc.constantFrom(-360, -180, 180, 360), fc.integer({ min: -9, max: 9 })).map(([x, n]) => x + n * 2 ** -45),
);
const sixteenths = fc.integer({ min: -1_000_000, max: 1_000_000 }).map((n) => n / 16);

const signed = (angle: Reference): Reference => {
  const rest = angle.mod(360);
  return rest.gt(180) ? rest.minus(360) : rest.lte(-180) ? rest.plus(360) : rest;
};

describe("by how much one direction leads another", () => {
  test("at the edges", () => {
    const ulp = 2 ** -45; // of doubles below 180 and above 128
    const rows: readonly (readonly [number, number, number])[] = [
      // from, to, to − from
      [0, 180, 180],
      [0, -180, 180],
      [180, 0, 180],
      [-180, 180, 0],
      [180, -180, 0],
      [0, 360, 0],
      [360, -0, 0],
      [-0, -0, 0],
      [90, -180, 90],
      [-170, 170, -20],
      [0, -1e-20, -1e-20],
      [-1e-20, 0, 1e-20],
      [180, 1e-20, 180], // a hair above −180, whose nearest neighbour in the range is 180
      [0, 1e22, -80], // 10^22 is 1 mod 9 and 0 mod 40, and so is 280
      [1e22, 0, 80],
      [1e22, 1e22, 0],
      [1e300, 1e300, 0],
      [180 - ulp, ulp - 180, 2 * ulp],
      [ulp - 180, 180, -ulp],
      [180, ulp - 180, ulp],
    ];
    for (const [from, to, expected] of rows)
      expect([from, to, angleBetween({ from, to })]).toEqual([from, to, expected]);
  });

  test("is the nearest double to the exact difference, for angles of every size", () => {
    holds(
      fc.property(anyAngle, anyAngle, (from, to) => {
        const [actual, exact] = [angleBetween({ from, to }), signed(turned(to).minus(turned(from)))];
        expect(actual > -180 && actual <= 180 && !Object.is(actual, -0)).toBe(true);
        // The nearest double to what lies a hair above −180 would be −180 itself, which is the direction of 180.
        if (exact.toNumber() === -180) expect(actual).toBe(180);
        else expect(ulpsOff(actual, exact)).toBeLessThanOrEqual(0.5);
      }),
      1000,
    );
  });

  test("of phasors is that of their angles", () => {
    const degreesOf = ({ re, im }: { re: number; im: number }) => D.atan2(exactly(im), exactly(re)).times(180).div(PI);
    holds(
      fc.property(extremePhasors, extremePhasors, angles, (from, to, degrees) => {
        fc.pre(!isZero(from) && !isZero(to));
        const off = (actual: number, exact: Reference) => signed(exactly(actual).minus(exact)).abs().toNumber();
        expect(off(angleBetween({ from, to }), degreesOf(to).minus(degreesOf(from)))).toBeLessThanOrEqual(2e-13);
        expect(off(angleBetween({ from, to: degrees }), exactly(degrees).minus(degreesOf(from)))).toBeLessThanOrEqual(
          2e-13,
        );
      }),
      50,
    );
  });

  test("of phasors is the angle of their quotient, and the turn that was given them", () => {
    holds(
      fc.property(phasors, phasors, (from, to) => {
        fc.pre(!isZero(from) && !isZero(to));
        const apart = normalizeAngle(angleBetween({ from, to }) - angle(divide(to, from)));
        expect(Math.abs(apart)).toBeLessThanOrEqual(1e-12);
      }),
    );
    expect(angleBetween({ from: polar(63.5, 0), to: polar(2, -30) })).toBeCloseTo(-30, 12); // lags
    expect(angleBetween({ from: polar(63.5, -90), to: polar(2, 180) })).toBe(-90);
  });

  test("turns round with its order, and does not mind whole turns nor where the two are counted from", () => {
    holds(
      fc.property(sixteenths, sixteenths, sixteenths, fc.integer({ min: -999, max: 999 }), (from, to, zero, turns) => {
        const lead = angleBetween({ from, to });
        expect(angleBetween({ from: to, to: from })).toBe(lead === 180 ? 180 : 0 - lead);
        expect(angleBetween({ from: from + zero, to: to + zero + 360 * turns })).toBe(lead);
        expect(normalizeAngle(from + lead)).toBe(normalizeAngle(to));
      }),
    );
  });
});

describe("angles counted on", () => {
  test("by hand", () => {
    expect(unwrapAngles([350, 360, 10])).toEqual([350, 360, 370]);
    expect(unwrapAngles([350, 0, 10])).toEqual([350, 360, 370]);
    expect(unwrapAngles([350, -360, -350])).toEqual([350, 360, 370]);
    expect(unwrapAngles([10, 350, 330, -50])).toEqual([10, -10, -30, -50]);
    expect(unwrapAngles([725, 0, 355])).toEqual([725, 720, 715]);
    expect(unwrapAngles(Float64Array.of(-0, 120, 240, 0, 120))).toEqual([0, 120, 240, 360, 480]);
    expect(unwrapAngles([])).toEqual([]);
  });

  test("lead where a step is half a turn to the bit", () => {
    expect(unwrapAngles([0, 180, 0, 180])).toEqual([0, 180, 360, 540]);
    expect(unwrapAngles([0, -180])).toEqual([0, 180]);
    expect(unwrapAngles([0, 181])).toEqual([0, -179]);
    expect(unwrapAngles([-90, 90, 89])).toEqual([-90, 90, 89]);
  });

  test("give back a walk of steps up to half a turn, however its angles were written", () => {
    const step = fc.integer({ min: -16 * 180 + 1, max: 16 * 180 }).map((n) => n / 16);
    const written = fc.constantFrom(
      (angle: number) => normalizeAngle(angle),
      (angle: number) => normalizeAngle(angle, "positive"),
      (angle: number) => normalizeAngle(angle) - 3600,
      (angle: number) => angle,
    );
    holds(
      fc.property(sixteenths, fc.array(fc.tuple(step, written), { maxLength: 50 }), (start, steps) => {
        const walk = [start];
        const read = [start];
        for (const [by, write] of steps) {
          walk.push((walk.at(-1) as number) + by);
          read.push(write(walk.at(-1) as number));
        }
        expect(unwrapAngles(read)).toEqual(walk);
      }),
    );
  });

  test("are the nearest doubles to each angle and its turns, after a hundred thousand steps too", () => {
    const list = Array.from({ length: 100_000 }, (_, i) => normalizeAngle(i * 34.567));
    const counted = unwrapAngles(list);
    for (let i = 0; i < counted.length; i += 999) {
      const turns = Math.round((i * 34.567 - (list[i] as number)) / 360);
      expect(ulpsOff(counted[i] as number, exactly(list[i] as number).plus(360 * turns))).toBeLessThanOrEqual(0.5);
    }
  });
});

describe("the mean direction", () => {
  test("by hand", () => {
    expect(meanAngle([90])).toEqual({ kind: "found", angle: 90, length: 1 });
    expect(meanAngle([180, -180, 540])).toEqual({ kind: "found", angle: 180, length: 1 });
    expect(meanAngle([350, 10])).toMatchObject({ angle: 0 });
    // The length of a mean is at most 1, which the rounding of seven such vectors is not.
    for (const angle of [2, 9, 12, 14, 15]) expect(meanAngle(Array(7).fill(angle))).toMatchObject({ length: 1 });
    expect(meanAngle([0, 90])).toMatchObject({ angle: 45, length: Math.SQRT1_2 });
    expect(meanAngle(Float32Array.of(0, 0, 180))).toEqual({ kind: "found", angle: 0, length: 1 / 3 });
  });

  test("is none where the directions cancel", () => {
    holds(
      fc.property(angles, fc.integer({ min: 2, max: 12 }), (start, count) => {
        const round = Array.from({ length: count }, (_, i) => start + (360 / count) * i);
        expect(meanAngle(round)).toEqual({ kind: "none", reason: "no-direction" });
        expect(meanAngle([...round, ...round.map((angle) => angle + 17)]).kind).toBe("none");
      }),
    );
  });

  test("is that of 50-digit sums", () => {
    holds(
      fc.property(fc.array(angles, { minLength: 1, maxLength: 12 }), (list) => {
        const sum = (part: (angle: Reference) => Reference) => list.reduce((s, x) => s.plus(part(turned(x))), new D(0));
        const [re, im, count] = [sum(cosineOf), sum(sineOf), list.length];
        const length = D.sqrt(re.pow(2).plus(im.pow(2)))
          .div(count)
          .toNumber();
        const mean = meanAngle(list);
        if (mean.kind === "none") {
          expect(length).toBeLessThanOrEqual(1e-14);
          return;
        }
        const off = signed(exactly(mean.angle).minus(D.atan2(im, re).times(180).div(PI)))
          .abs()
          .toNumber();
        expect(off).toBeLessThanOrEqual((1e-13 + count * 1e-14) / length);
        expect(Math.abs(mean.length - length)).toBeLessThanOrEqual(2e-16 + count * 1e-16);
        expect(mean.length <= 1).toBe(true);
      }),
      60,
    );
  });

  test("turns with its angles, and does not mind whole turns nor the order", () => {
    holds(
      fc.property(fc.array(spread(-60, 60), { minLength: 1, maxLength: 9 }), angles, (list, turn) => {
        const [mean, other] = [meanAngle(list), meanAngle(list.map((angle, i) => angle + turn + 360 * i).reverse())];
        if (mean.kind === "none" || other.kind === "none") throw new Error("angles within 120° have a mean");
        expect(Math.abs(angleBetween({ from: mean.angle + turn, to: other.angle }))).toBeLessThanOrEqual(2e-12);
        expect(Math.abs(mean.length - other.length)).toBeLessThanOrEqual(1e-13);
        expect(mean.angle >= Math.min(...list) - 1e-12 && mean.angle <= Math.max(...list) + 1e-12).toBe(true);
      }),
    );
  });
});
