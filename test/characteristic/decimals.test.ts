/** The stated accuracies of regions, shares and earth factors, held against 50-digit decimals at exactly the same doubles. */
import fc from "fast-check";
import {
  distanceTo,
  earthFactor,
  earthFactorOfRatios,
  earthRatios,
  type Mho,
  mho,
  mhoShare,
  outlineOf,
  type Point,
  quadrilateralShare,
  type Region,
} from "tripwright/characteristic";
import { type Phasor, polar } from "tripwright/phasor";
import { describe, expect, test } from "vitest";
import { complex, cosineOf, D, exactly, gap, modulus, type Reference, sineOf, ulpsOff } from "../base/reference.js";
import { holds } from "../support/holds.js";
import { quadrilaterals } from "./quadrilaterals.js";

/** Without the smallest doubles, whose products have no digits left. */
const number = (min: number, max: number) =>
  fc.double({ min, max, noNaN: true }).map((x) => (Math.abs(x) < 1e-9 ? 0 : x));
const point = fc.record({ x: number(-20, 20), y: number(-20, 20) });
const phasor = fc.record({ re: number(-20, 20), im: number(-20, 20) });

type Pair = readonly [Reference, Reference];
const pairOf = ({ x, y }: Point): Pair => [exactly(x), exactly(y)];
const minus = ([a, b]: Pair, [c, d]: Pair): Pair => [a.minus(c), b.minus(d)];
const dot = ([a, b]: Pair, [c, d]: Pair): Reference => a.times(c).plus(b.times(d));
const length = (pair: Pair): Reference => dot(pair, pair).sqrt();
const along = (angle: number): Pair => [cosineOf(exactly(angle)), sineOf(exactly(angle))];

/** How far a point lies from begin + t · way, t from 0 to 1 or without an end. */
function fromLine(at: Pair, begin: Pair, { way, ends }: { readonly way: Pair; readonly ends: boolean }): Reference {
  // Two points at one place have no line between them.
  const t = D.max(0, dot(minus(at, begin), way).div(D.max(dot(way, way), 1e-300)));
  const nearest = ends ? D.min(1, t) : t;
  return length(minus(minus(at, begin), [way[0].times(nearest), way[1].times(nearest)]));
}

/** How far a point lies from the boundary of a region. */
function depth(region: Region, at: Pair): Reference {
  const side = (a: Point, b: Point) => fromLine(at, pairOf(a), { way: minus(pairOf(b), pairOf(a)), ends: true });
  switch (region.form) {
    case "circle":
      return exactly(region.radius)
        .minus(length(minus(at, pairOf(region.center))))
        .abs();
    case "polygon":
      return D.min(...region.corners.map((corner, i, all) => side(corner, all[(i + 1) % all.length] as Point)));
    case "sector":
      return D.min(
        ...[region.from, region.to].map((ray) =>
          fromLine(at, pairOf({ x: 0, y: 0 }), { way: along(ray), ends: false }),
        ),
      );
    case "above": {
      const [first, last] = [region.points[0] as Point, region.points.at(-1) as Point];
      return D.min(
        fromLine(at, pairOf(first), { way: pairOf({ x: -1, y: 0 }), ends: false }),
        fromLine(at, pairOf(last), { way: pairOf({ x: 1, y: region.slope }), ends: false }),
        ...region.points.slice(1).map((b, i) => side(region.points[i] as Point, b)),
      );
    }
  }
}

const coordinates = (region: Region): number[] => {
  if (region.form === "circle") return [region.center.x, region.center.y, region.radius];
  if (region.form === "sector") return [];
  return (region.form === "polygon" ? region.corners : region.points).flatMap(({ x, y }) => [x, y]);
};
const largest = (region: Region, { x, y }: Point): number =>
  Math.max(...[x, y, ...coordinates(region)].map((coordinate) => Math.abs(coordinate)));

const circle = fc.record({ reach: number(0.1, 20), angle: number(-360, 360), reverse: number(0, 10) }).map(mho);
const sector = fc
  .tuple(number(-360, 360), number(1, 359))
  .map(([from, width]): Region => ({ form: "sector", from, to: from + width }));
/** Corners in order around their center. */
const polygon = fc
  .tuple(fc.array(fc.tuple(number(0.2, 1), number(0.5, 15)), { minLength: 3, maxLength: 8 }), point)
  .map(([sides, center]): Region => {
    const whole = sides.reduce((sum, [share]) => sum + share, 0);
    let turned = 0;
    const corners = sides.map(([share, radius]) => {
      turned += (360 * share) / whole;
      const { re, im } = polar(radius, turned);
      return { x: center.x + re, y: center.y + im };
    });
    return { form: "polygon", corners };
  });
const above = fc
  .tuple(fc.array(fc.tuple(number(0, 5), number(0, 5)), { minLength: 1, maxLength: 5 }), number(0, 3))
  .map(([steps, slope]): Region => {
    let [x, y] = [0, 0.2];
    const points = steps.map(([dx, dy]) => {
      [x, y] = [x + dx, y + dy];
      return { x, y };
    });
    return { form: "above", points, slope };
  });
const region = fc.oneof(circle, polygon, sector, above);

describe("of a region, within 1e-15 of the largest coordinate", () => {
  test("the distance of a point to the boundary", () => {
    holds(
      fc.property(region, point, (shape, at) => {
        const off = exactly(Math.abs(distanceTo(shape, at))).minus(depth(shape, pairOf(at)));
        expect(off.abs().toNumber()).toBeLessThanOrEqual(1e-15 * largest(shape, at));
      }),
      1000,
    );
  });

  test("every point of the outline, to the boundary", () => {
    holds(
      fc.property(region, (shape) => {
        for (const at of outlineOf(shape, { count: 12, extent: 30 }))
          expect(depth(shape, pairOf(at)).toNumber()).toBeLessThanOrEqual(1e-15 * largest(shape, at));
      }),
    );
  });
});

/** An angle at which a ray does more than graze a line: its sine is a tenth or more. */
const CLEAR = 0.1;

describe("the share of a zone, within 1e-14 where its boundary is met clearly", () => {
  const impedance = fc.tuple(number(1e-3, 200), number(-180, 180)).map(([size, turn]) => polar(size, turn));
  const close = (share: number, reference: Reference) =>
    expect(reference.minus(exactly(share)).abs().toNumber()).toBeLessThanOrEqual(1e-14 * share);

  test("of a mho: the multiple of the zone on whose circle the impedance lies", () => {
    const zones: fc.Arbitrary<Mho> = fc.record({
      reach: number(0.01, 100),
      angle: number(-180, 180),
      reverse: fc.oneof(fc.constant(0), number(0.01, 50)),
    });
    holds(
      fc.property(zones, impedance, (zone, z) => {
        const { reach, angle, reverse = 0 } = zone;
        const at: Pair = [exactly(z.re), exactly(z.im)];
        const ahead = dot(at, along(angle));
        // A mho through the origin is grazed at right angles to its own.
        fc.pre(reverse > 0 || ahead.div(length(at)).gt(CLEAR));
        // s · reach and −s · reverse on the line angle span the circle: |z|² − s · ahead · (reach − reverse) − s² · reach · reverse = 0.
        const [linear, square] = [
          ahead.times(exactly(reach).minus(exactly(reverse))),
          exactly(reach).times(exactly(reverse)),
        ];
        const root = linear
          .times(linear)
          .plus(square.times(dot(at, at)).times(4))
          .sqrt();
        close(mhoShare(zone, z), dot(at, at).times(2).div(linear.plus(root)));
      }),
      1000,
    );
  });

  test("of a quadrilateral: the larger of those of its two lines", () => {
    /** How far a point lies to the left of the line through the origin in a direction. */
    const left = ([x, y]: Pair, angle: number): Reference => dot([x.neg(), y], [along(angle)[1], along(angle)[0]]);
    holds(
      fc.property(quadrilaterals, impedance, (zone, z) => {
        const { reactance, resistance, lineAngle, tilt = 0 } = zone;
        const share = quadrilateralShare(zone, z);
        fc.pre(Number.isFinite(share));
        const at: Pair = [exactly(z.re), exactly(z.im)];
        const [cosine, sine] = along(lineAngle);
        const reached: Pair = [exactly(reactance).times(cosine).div(sine), exactly(reactance)];
        const ofReactance = left(at, tilt).div(left(reached, tilt));
        const ofBlinder = left(at, lineAngle).div(left([exactly(resistance), exactly(0)], lineAngle));
        const decides = ofReactance.gt(ofBlinder) ? tilt : lineAngle;
        fc.pre(left(at, decides).abs().div(length(at)).gt(CLEAR));
        close(share, D.max(ofReactance, ofBlinder));
      }),
      300,
    );
  });
});

describe("earth factors", () => {
  const over = (of: Reference, to: number): Reference => of.div(exactly(to)).div(3);

  test("k0 is within 2e-15 of its magnitude, the ratios within 3 units in the last place", () => {
    holds(
      fc.property(phasor, phasor, (z1, z0) => {
        fc.pre(z1.re !== 0 || z1.im !== 0);
        const [one, zero] = [complex(z1), complex(z0)];
        const [re, im] = minus([zero.re, zero.im], [one.re, one.im]);
        const square = modulus(one).pow(2).times(3);
        const k0 = {
          re: dot([re, im], [one.re, one.im]).div(square),
          im: im.times(one.re).minus(re.times(one.im)).div(square),
        };
        expect(gap(earthFactor({ z1, z0 }), k0).lte(modulus(k0).times(2e-15))).toBe(true);
        const { resistance, reactance } = earthRatios({ z1, z0 });
        if (resistance !== undefined && !re.isZero()) expect(ulpsOff(resistance, over(re, z1.re))).toBeLessThan(3);
        if (reactance !== undefined && !im.isZero()) expect(ulpsOff(reactance, over(im, z1.im))).toBeLessThan(3);
      }),
      1000,
    );
  });

  test("that of a pair of ratios is within 1e-15 of the larger of them", () => {
    holds(
      fc.property(number(-5, 5), number(-5, 5), number(1, 180), (resistance, reactance, lineAngle) => {
        const [r, x] = along(lineAngle);
        const [ofR, ofX] = [exactly(resistance).times(r), exactly(reactance).times(x)];
        // (ofR + j · ofX)(r − j · x), over a magnitude of 1.
        const k0 = { re: dot([ofR, ofX], [r, x]), im: ofX.times(r).minus(ofR.times(x)) };
        const found: Phasor = earthFactorOfRatios({ resistance, reactance, lineAngle });
        const most = Math.max(Math.abs(resistance), Math.abs(reactance));
        expect(gap(found, k0).toNumber()).toBeLessThanOrEqual(1e-15 * most);
      }),
      1000,
    );
  });
});
