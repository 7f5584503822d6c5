import fc from "fast-check";
import {
  type Above,
  boundaryAlong,
  distanceTo,
  mho,
  outlineOf,
  type Point,
  type Polygon,
  quadrilateral,
  type Region,
  type Sector,
} from "tripwright/characteristic";
import { describe, expect, test } from "vitest";
import { problemsOf } from "../support/failure.js";
import { holds } from "../support/holds.js";

/** Without the smallest doubles, whose products have no digits left. */
const number = (min: number, max: number) =>
  fc.double({ min, max, noNaN: true }).map((x) => (Math.abs(x) < 1e-9 ? 0 : x));
const angle = number(-360, 360);
const point = fc.record({ x: number(-20, 20), y: number(-20, 20) });

const circle = fc.record({ reach: number(0.1, 20), angle, reverse: number(0, 10) }).map((zone) => mho(zone));
/** Corners on a circle, in order, none of them close to another: convex, with the center inside. */
const convex = fc
  .tuple(fc.array(number(0.2, 1), { minLength: 3, maxLength: 8 }), number(0.5, 15), point)
  .map(([shares, radius, center]): Polygon => {
    const whole = shares.reduce((a, b) => a + b);
    let turned = 0;
    const corners = shares.map((share) => {
      turned += (2 * Math.PI * share) / whole;
      return { x: center.x + radius * Math.cos(turned), y: center.y + radius * Math.sin(turned) };
    });
    return { form: "polygon", corners };
  });
const sector = fc
  .tuple(angle, number(1, 359))
  .map(([from, width]): Sector => ({ form: "sector", from, to: from + width }));
const above = fc
  .tuple(fc.array(fc.tuple(number(0.1, 5), number(0, 5)), { minLength: 1, maxLength: 5 }), number(0, 3))
  .map(([steps, slope]): Above => {
    let [x, y] = [0, 0.2];
    const points = steps.map(([dx, dy], i) => {
      if (i > 0) [x, y] = [x + dx, y + dy];
      return { x, y };
    });
    return { form: "above", points, slope };
  });
const region: fc.Arbitrary<Region> = fc.oneof(circle, convex, sector, above);

/** The distance to points along the outline, close together: an upper bound that misses by the pitch at most. */
function nearest(shape: Region, { x, y }: Point, pitch: number): number {
  const outline = outlineOf(shape, { count: 3600, extent: 200 });
  let least = Infinity;
  for (const [i, b] of outline.entries()) {
    const a = outline[i - 1] ?? b;
    const parts = Math.max(1, Math.ceil(Math.hypot(b.x - a.x, b.y - a.y) / pitch));
    for (let k = 0; k <= parts; k++)
      least = Math.min(least, Math.hypot(a.x + ((b.x - a.x) * k) / parts - x, a.y + ((b.y - a.y) * k) / parts - y));
  }
  return least;
}

describe("the distance to the boundary of a region", () => {
  test("is that to the nearest point of its outline", () => {
    holds(
      fc.property(fc.oneof(circle, convex, sector), point, (shape, p) => {
        const pitch = 0.05;
        const least = nearest(shape, p, pitch);
        const ours = Math.abs(distanceTo(shape, p));
        expect(ours).toBeLessThanOrEqual(least + 1e-12);
        expect(ours).toBeGreaterThanOrEqual(least - pitch);
      }),
      60,
    );
  });

  test("is 0 where a ray meets it", () => {
    holds(
      fc.property(region, point, angle, (shape, from, ray) => {
        for (const t of boundaryAlong(shape, { from, angle: ray })) {
          const met = {
            x: from.x + t * Math.cos((ray * Math.PI) / 180),
            y: from.y + t * Math.sin((ray * Math.PI) / 180),
          };
          expect(Math.abs(distanceTo(shape, met))).toBeLessThan(1e-12 * (40 + t));
        }
      }),
    );
  });

  test("changes its sign along a ray exactly where the ray meets the boundary", () => {
    holds(
      fc.property(region, point, angle, (shape, from, ray) => {
        const at = (t: number) =>
          distanceTo(shape, {
            x: from.x + t * Math.cos((ray * Math.PI) / 180),
            y: from.y + t * Math.sin((ray * Math.PI) / 180),
          });
        // What lies beyond the end that is looked at does not count.
        const met = [0, ...boundaryAlong(shape, { from, angle: ray }).filter((t) => t < 60), 60];
        for (const [i, end] of met.entries()) {
          const begin = met[i - 1] ?? end;
          if (end - begin < 1e-6) continue;
          const signs = [0.1, 0.5, 0.9].map((share) => Math.sign(at(begin + (end - begin) * share)));
          expect(new Set(signs).size).toBe(1);
          if (i > 1) {
            const before = Math.sign(at(begin - (begin - (met[i - 2] as number)) / 2));
            const isCrossing = begin - (met[i - 2] as number) > 1e-6;
            // A ray through a corner or along a tangent may touch without crossing.
            if (isCrossing && shape.form === "circle" && Math.abs(at((begin + end) / 2)) > 1e-6)
              expect(before).toBe(-(signs[0] as number));
          }
        }
      }),
    );
  });

  test("grows with the scale of the plane, to the bit for powers of two", () => {
    const scaled = (p: Point, by: number): Point => ({ x: p.x * by, y: p.y * by });
    const larger = (shape: Region, by: number): Region => {
      switch (shape.form) {
        case "circle":
          return { ...shape, center: scaled(shape.center, by), radius: shape.radius * by };
        case "polygon":
          return { ...shape, corners: shape.corners.map((corner) => scaled(corner, by)) };
        case "above":
          return { ...shape, points: shape.points.map((one) => scaled(one, by)) };
        case "sector":
          return shape;
      }
    };
    holds(
      fc.property(region, point, fc.integer({ min: -8, max: 8 }), (shape, p, power) => {
        const by = 2 ** power;
        expect(distanceTo(larger(shape, by), scaled(p, by))).toBe(distanceTo(shape, p) * by);
      }),
    );
  });

  test("inside a convex polygon is the least to the lines of its sides", () => {
    holds(
      fc.property(convex, number(0, 1), fc.nat(), ({ corners, ...rest }, share, which) => {
        const middle = corners.reduce(
          (sum, { x, y }) => ({ x: sum.x + x / corners.length, y: sum.y + y / corners.length }),
          { x: 0, y: 0 },
        );
        const corner = corners[which % corners.length] as Point;
        const p = { x: middle.x + share * (corner.x - middle.x), y: middle.y + share * (corner.y - middle.y) };
        const toLines = corners.map((a, i) => {
          const b = corners[(i + 1) % corners.length] as Point;
          return ((b.x - a.x) * (p.y - a.y) - (b.y - a.y) * (p.x - a.x)) / Math.hypot(b.x - a.x, b.y - a.y);
        });
        const least = Math.min(...toLines);
        expect(Math.abs(distanceTo({ corners, ...rest }, p))).toBeCloseTo(Math.abs(least), 10);
        if (share < 0.99) expect(distanceTo({ corners, ...rest }, p)).toBeGreaterThan(0);
      }),
    );
  });

  test("of an L-shaped polygon knows the notch, and corners on the height of a point", () => {
    const corners = [
      [0, 0],
      [4, 0],
      [4, 2],
      [2, 2],
      [2, 4],
      [0, 4],
    ].map(([x, y]) => ({ x: x as number, y: y as number }));
    const shape: Polygon = { form: "polygon", corners };
    expect(distanceTo(shape, { x: 1, y: 2 })).toBe(1);
    expect(distanceTo(shape, { x: 3, y: 3 })).toBe(-1);
    expect(distanceTo(shape, { x: 5, y: 2 })).toBe(-1);
    expect(distanceTo(shape, { x: -1, y: 2 })).toBe(-1);
    // The notch is nearer than the far corner: √2 from (1, 1) to (2, 2), but 1 to the axes.
    expect(distanceTo(shape, { x: 1.75, y: 1.75 })).toBe(Math.hypot(0.25, 0.25));
    expect(boundaryAlong(shape, { from: { x: 5, y: 3 }, angle: 180 })).toEqual([3, 5]);
  });

  test("of a wide sector is that to its nearer ray, or to the origin", () => {
    const wide: Sector = { form: "sector", from: 90, to: 360 };
    expect(distanceTo(wide, { x: -3, y: -4 })).toBe(5);
    expect(distanceTo(wide, { x: 2, y: 1 })).toBe(-1);
    expect(distanceTo(wide, { x: 2, y: -1 })).toBe(1);
    expect(distanceTo({ form: "sector", from: -10, to: 10 }, { x: 1, y: 0 })).toBeCloseTo(Math.sin(Math.PI / 18), 15);
  });

  test("above a line with a step is that to the step", () => {
    const stepped: Above = {
      form: "above",
      points: [
        { x: 2, y: 1 },
        { x: 2, y: 3 },
      ],
      slope: 0,
    };
    expect(distanceTo(stepped, { x: 1.5, y: 2 })).toBe(0.5);
    expect(distanceTo(stepped, { x: 2.25, y: 2 })).toBe(-0.25);
    expect(boundaryAlong(stepped, { from: { x: 0, y: 2 }, angle: 0 })).toEqual([2]);
    expect(boundaryAlong(stepped, { from: { x: 4, y: 0 }, angle: 90 })).toEqual([3]);
  });
});

describe("zones of distance protection", () => {
  test("turn with their characteristic angle", () => {
    holds(
      fc.property(number(0.1, 20), number(0, 5), angle, angle, (reach, reverse, set, ray) => {
        const ohm = (turn: number) => boundaryAlong(mho({ reach, reverse, angle: set + turn }), { angle: ray + turn });
        const [plain, turned] = [ohm(0).at(-1) ?? 0, ohm(37).at(-1) ?? 0];
        // A ray that grazes the circle loses half of its digits.
        expect(Math.abs(plain - turned)).toBeLessThan(2e-7 * (reach + reverse));
        const graze = Math.abs(Math.cos(((ray - set) * Math.PI) / 180));
        if (graze > 0.1) expect(Math.abs(plain - turned)).toBeLessThan(2e-13 * (reach + reverse));
      }),
    );
  });

  test("a mho without reverse reach is reach · cos of the angle to its own, an offset one spans its diameter", () => {
    holds(
      fc.property(number(0.1, 20), number(0.1, 5), angle, number(-85, 85), (reach, reverse, set, off) => {
        const met = boundaryAlong(mho({ reach, angle: set }), { angle: set + off });
        expect(met.at(-1)).toBeCloseTo(reach * Math.cos((off * Math.PI) / 180), 11);
        const ahead = boundaryAlong(mho({ reach, reverse, angle: set }), { angle: set })[0] as number;
        const behind = boundaryAlong(mho({ reach, reverse, angle: set }), { angle: set + 180 })[0] as number;
        expect(
          [ahead, behind].map((ohm, i) => ohm / ([reach, reverse][i] as number) - 1).every((x) => Math.abs(x) < 1e-12),
        ).toBe(true);
      }),
    );
  });

  const zone = { reactance: 8, resistance: 4, lineAngle: 75, tilt: -3, forward: { from: -15, to: 115 } };

  test("a quadrilateral holds the reach point and the resistance on its boundary, loads and reverse faults outside", () => {
    const shape = quadrilateral(zone);
    const reached = { x: 8 / Math.tan((75 * Math.PI) / 180), y: 8 };
    expect(Math.abs(distanceTo(shape, reached))).toBeLessThan(1e-14);
    expect(distanceTo(shape, { x: 4, y: 0 })).toBeCloseTo(0, 14);
    expect(distanceTo(shape, { x: 3.9, y: 0 })).toBeGreaterThan(0);
    for (const outside of [
      { x: 6, y: 0 },
      { x: -1, y: -2 },
      { x: 2, y: 9 },
      { x: -5, y: 4 },
    ])
      expect(distanceTo(shape, outside)).toBeLessThan(0);
  });

  test("a quadrilateral with a level reactance line and an upright blinder is a rectangle cut by its directional lines", () => {
    const corners = quadrilateral({ ...zone, tilt: 0, blinderAngle: 90, forward: { from: -45, to: 135 } }).corners;
    const wanted = [
      [0, 0],
      [4, -4],
      [4, 8],
      [-8, 8],
    ];
    corners.forEach(({ x, y }, i) => {
      expect(x).toBeCloseTo(wanted[i]?.[0] as number, 13);
      expect(y).toBeCloseTo(wanted[i]?.[1] as number, 13);
    });
  });
});

describe("outlines", () => {
  test("lie on the boundary, and come closed where the boundary is", () => {
    holds(
      fc.property(region, (shape) => {
        const outline = outlineOf(shape, { extent: 30 });
        for (const p of outline) expect(Math.abs(distanceTo(shape, p))).toBeLessThan(1e-12 * 60);
        if (shape.form === "circle" || shape.form === "polygon") expect(outline.at(-1)).toEqual(outline[0]);
        else expect(outline.at(-1)?.x !== outline[0]?.x || outline.at(-1)?.y !== outline[0]?.y).toBe(true);
      }),
    );
  });

  test("go from the axis to the extent above a line", () => {
    const shape: Above = {
      form: "above",
      points: [
        { x: 1, y: 2 },
        { x: 3, y: 4 },
      ],
      slope: 0.5,
    };
    expect(outlineOf(shape)).toEqual([
      { x: 0, y: 2 },
      { x: 1, y: 2 },
      { x: 3, y: 4 },
      { x: 6, y: 5.5 },
    ]);
    expect(outlineOf(shape, { extent: 2 })).toEqual([
      { x: 0, y: 2 },
      { x: 1, y: 2 },
      { x: 2, y: 3 },
    ]);
  });
});

describe("what is no region", () => {
  const good = { form: "circle", center: { x: 0, y: 0 }, radius: 1 };
  test.each([
    [null, "wrong-type", "region"],
    [{ form: "ellipse" }, "unknown-name", "form"],
    [{ ...good, radius: 0 }, "out-of-range", "radius"],
    [{ ...good, center: { x: Number.NaN, y: 0 } }, "not-finite", "center.x"],
    [
      {
        form: "polygon",
        corners: [
          { x: 0, y: 0 },
          { x: 1, y: 0 },
        ],
      },
      "wrong-length",
      "corners",
    ],
    [{ form: "polygon", corners: "abc" }, "wrong-type", "corners"],
    [{ form: "sector", from: 10, to: 10 }, "out-of-range", "to"],
    [{ form: "sector", from: 10, to: 370 }, "out-of-range", "to"],
    [
      {
        form: "above",
        points: [
          { x: 1, y: 0 },
          { x: 0, y: 0 },
        ],
        slope: 0,
      },
      "out-of-range",
      "points[1].x",
    ],
    [{ form: "above", points: [], slope: 0 }, "wrong-length", "points"],
    [{ form: "above", points: [{ x: 1, y: 0 }], slope: -1 }, "out-of-range", "slope"],
  ])("%j", (shape, code, path) => {
    for (const ask of [
      () => distanceTo(shape as never, { x: 0, y: 0 }),
      () => boundaryAlong(shape as never, { angle: 0 }),
      () => outlineOf(shape as never),
    ])
      expect(problemsOf(ask)).toMatchObject([{ code, path }]);
  });

  test.each([
    [() => distanceTo(good as never, { x: 0 } as never), "point.y"],
    [() => boundaryAlong(good as never, { angle: "up" } as never), "angle"],
    [() => boundaryAlong(good as never, { from: { x: 0 }, angle: 0 } as never), "from.y"],
    [() => outlineOf(good as never, { count: 2 }), "count"],
    [() => outlineOf(good as never, { extent: 0 }), "extent"],
    [() => mho({ reach: 0, angle: 0 }), "reach"],
    [() => mho({ reach: 1, angle: 0, reverse: -1 }), "reverse"],
    [() => quadrilateral({ reactance: 0, resistance: 1, lineAngle: 75, forward: { from: -15, to: 115 } }), "reactance"],
    [
      () => quadrilateral({ reactance: 1, resistance: 1, lineAngle: 180, forward: { from: -15, to: 115 } }),
      "lineAngle",
    ],
    [
      () => quadrilateral({ reactance: 1, resistance: 1, lineAngle: 75, forward: { from: 80, to: 115 } }),
      "forward.from",
    ],
    [() => quadrilateral({ reactance: 1, resistance: 1, lineAngle: 75, forward: { from: -15, to: 60 } }), "forward.to"],
    [() => quadrilateral({ reactance: 1, resistance: 1, lineAngle: 75, forward: {} } as never), "forward.from"],
    [
      () => quadrilateral({ reactance: 1, resistance: 1, lineAngle: 75, tilt: 75, forward: { from: -15, to: 115 } }),
      "blinderAngle",
    ],
    [
      () => quadrilateral({ reactance: 1, resistance: 9, lineAngle: 75, tilt: -60, forward: { from: -15, to: 115 } }),
      "",
    ],
  ])("other input: %#", (ask, path) => {
    expect(problemsOf(ask)).toMatchObject([{ path }]);
  });
});
