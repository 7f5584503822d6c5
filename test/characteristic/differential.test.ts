import fc from "fast-check";
import {
  boundaryAlong,
  compensated,
  type DifferentialCharacteristic,
  differentialCurrents,
  differentialPoint,
  differentialRegion,
  distanceTo,
  lagOfClock,
  type Restraint,
  ratedSecondaryCurrent,
} from "tripwright/characteristic";
import {
  add,
  magnitude,
  negate,
  type Phases,
  type Phasor,
  polar,
  rotate,
  subtract,
  threePhase,
} from "tripwright/phasor";
import { describe, expect, test } from "vitest";
import { problemsOf } from "../support/failure.js";
import { holds } from "../support/holds.js";

const number = (min: number, max: number) => fc.double({ min, max, noNaN: true });
const restraint = fc.constantFrom<Restraint>("average", "sum", "maximum", "difference");
const phasor = fc.tuple(number(0, 10), number(-180, 180)).map(([size, angle]) => polar(size, angle));
const phases = fc.record({ a: phasor, b: phasor, c: phasor });
const clock = fc.integer({ min: 0, max: 11 });
const apart = (a: Phasor, b: Phasor) => magnitude(subtract(a, b));

const characteristic = fc
  .record({
    pickup: number(0.1, 1),
    first: fc.option(number(0.05, 0.5), { nil: undefined }),
    second: fc.option(fc.tuple(number(0.1, 1), number(1, 5), fc.constantFrom("from-knee", "through-origin")), {
      nil: undefined,
    }),
    unrestrained: fc.option(number(2, 20), { nil: undefined }),
  })
  .map(({ pickup, first, second, unrestrained }): DifferentialCharacteristic => {
    const one = first === undefined ? [] : [{ slope: first, line: "through-origin" as const }];
    const begins = first === undefined ? 0 : pickup / first;
    const two =
      first === undefined || second === undefined
        ? []
        : [{ slope: second[0], line: second[2] as "from-knee", begins: begins + second[1] }];
    return { pickup, slopes: [...one, ...two], ...(unrestrained !== undefined && { unrestrained }) };
  });

/** The threshold in the words of its settings, slope by slope. */
function threshold(
  { pickup, slopes: [one, two], unrestrained = Infinity }: DifferentialCharacteristic,
  x: number,
): number {
  const first = (at: number) => Math.max(pickup, (one?.slope ?? 0) * at);
  const second = () => {
    if (two?.begins === undefined || x < two.begins) return first(x);
    const knee = first(two.begins);
    return two.line === "from-knee" ? knee + two.slope * (x - two.begins) : Math.max(knee, two.slope * x);
  };
  return Math.min(second(), unrestrained);
}

describe("a differential characteristic", () => {
  test("has its threshold where its settings say", () => {
    holds(
      fc.property(characteristic, number(0, 30), (given, x) => {
        const met = boundaryAlong(differentialRegion(given), { from: { x, y: 0 }, angle: 90 });
        // At a step the ray runs along the boundary, and meets it from its lower end on.
        const near = given.slopes.some(({ begins = -1 }) => Math.abs(x - begins) < 1e-9);
        if (!near) expect(met.at(-1)).toBeCloseTo(threshold(given, x), 10);
      }),
    );
  });

  test("operates above it and not below it", () => {
    holds(
      fc.property(characteristic, number(0, 30), number(0.01, 30), (given, x, y) => {
        const depth = distanceTo(differentialRegion(given), { x, y });
        const beyond = y - threshold(given, x);
        if (Math.abs(beyond) > 1e-9) expect(Math.sign(depth)).toBe(Math.sign(beyond));
        // The way straight down is one way to the boundary.
        expect(Math.abs(depth)).toBeLessThanOrEqual(Math.abs(beyond) + 1e-9);
      }),
    );
  });

  test("may begin its slope at once on top of the pickup", () => {
    const region = differentialRegion({ pickup: 0.1, slopes: [{ slope: 0.1, line: "from-knee", begins: 0 }] });
    expect(boundaryAlong(region, { from: { x: 3.9, y: 0 }, angle: 90 })[0]).toBeCloseTo(0.49, 14);
  });

  test("an unrestrained stage may cut a slope off between its knees", () => {
    const slopes = [
      { slope: 0.25, line: "through-origin" },
      { slope: 0.6, line: "from-knee", begins: 2 },
    ] as const;
    // The first slope goes from (1.2, 0.3) to (2, 0.5): 0.4 is half way.
    const { points, slope } = differentialRegion({ pickup: 0.3, slopes, unrestrained: 0.4 });
    expect(points.map(({ x, y }) => [x.toFixed(12), y])).toEqual([
      ["1.200000000000", 0.3],
      ["1.600000000000", 0.4],
    ]);
    expect(slope).toBe(0);
  });

  test("a second slope through the origin that is lower goes on level to where it passes", () => {
    const region = differentialRegion({
      pickup: 1,
      slopes: [
        { slope: 0.5, line: "from-knee", begins: 1 },
        { slope: 0.25, line: "through-origin", begins: 5 },
      ],
    });
    const at = (x: number) => boundaryAlong(region, { from: { x, y: 0 }, angle: 90 })[0];
    expect([at(5), at(8), at(12), at(16)]).toEqual([3, 3, 3, 4]);
  });

  test.each([
    [{ pickup: 0, slopes: [] }, "pickup"],
    [{ pickup: 1, slopes: {} }, "slopes"],
    [{ pickup: 1, slopes: [{ slope: 0, line: "through-origin" }] }, "slopes[0].slope"],
    [{ pickup: 1, slopes: [{ slope: 1, line: "level" }] }, "slopes[0].line"],
    [{ pickup: 1, slopes: [{ slope: 1, line: "from-knee" }] }, "slopes[0].begins"],
    [
      {
        pickup: 1,
        slopes: [
          { slope: 0.5, line: "through-origin" },
          { slope: 1, line: "from-knee", begins: 1 },
        ],
      },
      "slopes[1].begins",
    ],
    [
      {
        pickup: 1,
        slopes: [
          { slope: 0.5, line: "through-origin" },
          { slope: 1, line: "through-origin" },
        ],
      },
      "slopes[1].begins",
    ],
    [{ pickup: 1, slopes: [], unrestrained: 1 }, "unrestrained"],
    [{ pickup: 1, slopes: [1, 2, 3] }, "slopes"],
  ])("refuses %j", (given, path) => {
    expect(problemsOf(() => differentialRegion(given as never))).toMatchObject([{ path }]);
  });
});

describe("currents for a point", () => {
  test("put the function at that point", () => {
    holds(
      fc.property(restraint, number(0.1, 20), number(0, 1), (name, x, share) => {
        // One side alone has so much operating current for its restraint.
        const most = { average: 2, sum: 1, maximum: 1, difference: 2 }[name] * x;
        const wanted = { x, y: share * most };
        const currents = differentialCurrents(wanted, name);
        if (currents.kind === "none") {
          expect(share).toBeGreaterThan(1 - 1e-12);
          return;
        }
        const sides = [currents.first, currents.second].map((re) => ({ re, im: 0 }));
        const point = differentialPoint(sides, name);
        expect(point.x).toBeCloseTo(x, 10);
        expect(point.y).toBeCloseTo(wanted.y, 10);
        expect(differentialCurrents({ x, y: 1.001 * most }, name)).toMatchObject({ kind: "none" });
      }),
    );
  });

  test.each([
    [() => differentialCurrents({ x: 0, y: 1 }, "sum"), "x"],
    [() => differentialCurrents({ x: 1, y: -1 }, "sum"), "y"],
    [() => differentialCurrents({ x: 1, y: 1 }, "product" as never), "restraint"],
    [() => differentialPoint([{ re: 1, im: 0 }], "sum"), "currents"],
    [
      () =>
        differentialPoint(
          [1, 2, 3].map((re) => ({ re, im: 0 })),
          "difference",
        ),
      "currents",
    ],
    [() => differentialPoint("ab" as never, "sum"), "currents"],
  ])("refused: %#", (ask, path) => {
    expect(problemsOf(ask)).toMatchObject([{ path }]);
  });

  test("do not matter in which direction all of them turn", () => {
    holds(
      fc.property(restraint, phasor, phasor, number(-180, 180), (name, one, other, degrees) => {
        const plain = differentialPoint([one, other], name);
        const turned = differentialPoint([rotate(one, degrees), rotate(other, degrees)], name);
        expect(turned.x).toBeCloseTo(plain.x, 11);
        expect(turned.y).toBeCloseTo(plain.y, 11);
      }),
    );
  });
});

describe("the compensation of a vector group", () => {
  test("leaves no differential current of a through-load, whatever the clock number and the rotation", () => {
    holds(
      fc.property(
        clock,
        number(0.1, 10),
        number(-180, 180),
        fc.constantFrom("ABC" as const, "ACB" as const),
        (hours, load, turn, rotation) => {
          const into = threePhase(load, turn, rotation);
          // Out of the other side the positive sequence lags by 30° an hour, the negative one leads as much.
          const sense = rotation === "ABC" ? 1 : -1;
          const out = threePhase(load, turn - sense * lagOfClock(hours), rotation);
          const other = compensated({ a: negate(out.a), b: negate(out.b), c: negate(out.c) }, { clock: hours });
          const reference = compensated(into, { clock: 0 });
          for (const phase of ["a", "b", "c"] as const)
            expect(magnitude(add(reference[phase], other[phase]))).toBeLessThan(1e-14 * 10 * load);
        },
      ),
    );
  });

  test("passes no zero sequence unless it is asked to, and then only for even clock numbers", () => {
    holds(
      fc.property(clock, phasor, (hours, zero) => {
        const all: Phases = { a: zero, b: zero, c: zero };
        expect(magnitude(compensated(all, { clock: hours }).a)).toBeLessThan(1e-14 * (1 + magnitude(zero)));
        const kept = compensated(all, { clock: hours, zeroSequence: "kept" });
        expect(magnitude(kept.b)).toBeCloseTo(hours % 2 === 0 ? magnitude(zero) : 0, 12);
      }),
    );
  });

  test("turns back what another turned, but for the zero sequence", () => {
    holds(
      fc.property(clock, phases, (hours, set) => {
        const back = compensated(compensated(set, { clock: hours }), { clock: (12 - hours) % 12 });
        const plain = compensated(set, { clock: 0 });
        for (const phase of ["a", "b", "c"] as const) expect(apart(back[phase], plain[phase])).toBeLessThan(1e-13 * 10);
      }),
    );
  });

  test("an hour is a twelfth of a turn", () => {
    expect([0, 1, 5, 11].map(lagOfClock)).toEqual([0, 30, 150, 330]);
  });

  test.each([
    [() => lagOfClock(12), "clock"],
    [() => compensated(threePhase(1), { clock: 1.5 }), "clock"],
    [() => compensated(threePhase(1), { clock: 1, zeroSequence: "some" as never }), "zeroSequence"],
    [() => ratedSecondaryCurrent({ power: 0, voltage: 1, ctRatio: 1 }), "power"],
    [() => ratedSecondaryCurrent({ power: 1, voltage: 0, ctRatio: 1 }), "voltage"],
    [() => ratedSecondaryCurrent({ power: 1, voltage: 1, ctRatio: 0 }), "ctRatio"],
  ])("refused: %#", (ask, path) => {
    expect(problemsOf(ask)).toMatchObject([{ path }]);
  });

  test("rated currents: 10 MVA at 80 kV and 20 kV, single-phase in the book, are √3 times those of three phases", () => {
    // Glover, Sarma, Overbye, 5th ed., example 10.9: 4.1667 A on both sides of a single-phase unit.
    const high = ratedSecondaryCurrent({ power: 10e6, voltage: 80e3, ctRatio: 30 });
    const low = ratedSecondaryCurrent({ power: 10e6, voltage: 20e3, ctRatio: 120 });
    expect(high * Math.sqrt(3)).toBeCloseTo(25 / 6, 12);
    expect(low).toBeCloseTo(high, 14);
  });
});
