/** multipleForTime and multiplierForTime undo operateTime for every form, with settings as people type them. */
import fc from "fast-check";
import {
  type Curve,
  type CurveName,
  type CurveSetting,
  curveNames,
  curveSide,
  multipleForTime,
  multiplierForTime,
  operateTime,
  standardCurve,
} from "tripwright/curve";
import { describe, expect, test } from "vitest";
import { exactly } from "../base/reference.js";
import { between } from "../support/curves.js";
import { holds } from "../support/holds.js";

/** Numbers of two decimals. */
const typed = (from: number, to: number) =>
  fc.integer({ min: Math.round(from * 100), max: Math.round(to * 100) }).map((hundredths) => hundredths / 100);

const level = [
  { multiple: 1, time: 100 },
  { multiple: 2, time: 10 },
  { multiple: 3, time: 10 },
  { multiple: 100, time: 1 },
];
const curves: fc.Arbitrary<Curve | CurveName> = fc.oneof(
  fc.constantFrom(...curveNames),
  fc.record({ form: fc.constant("definite" as const), time: typed(0, 10) }),
  fc.record({ form: fc.constant("excess" as const), k: typed(0.1, 100), power: typed(0.5, 3) }),
  fc.record({ form: fc.constant("energy" as const), k: typed(0.1, 100), maximumTime: typed(0.1, 100) }),
  fc.record({ form: fc.constant("energy" as const), k: typed(0.1, 100) }),
  fc.record({ form: fc.constant("thermal" as const), tau: typed(1, 1000) }),
  fc.record({ form: fc.constant("table" as const), points: fc.constant(level) }),
);

/** A setting, and a multiple at which it operates: some of them ends of the curve. */
const asked = fc
  .record({
    curve: curves,
    multiplier: typed(0.05, 10),
    added: fc.option(typed(0.01, 0.5)),
    floor: fc.option(typed(0.05, 20)),
    ceiling: fc.option(typed(2, 20)),
    start: fc.option(typed(1, 1.5)),
    over: fc.oneof(typed(1.51, 100), fc.constant(100)),
    under: fc.oneof(typed(0, 0.99), fc.constant(0)),
  })
  .map(({ curve, multiplier, added, floor, ceiling, start, over, under }) => {
    const isOver = curveSide(curve) === "over";
    const setting: CurveSetting = {
      curve,
      multiplier,
      ...(added !== null && { addedTime: added }),
      ...(floor !== null && { minimumTime: floor }),
      ...(isOver && ceiling !== null && { ceilingMultiple: ceiling }),
      ...(isOver && start !== null && { startRatio: start }),
    };
    return { setting, isOver, multiple: isOver ? over : under };
  });

const ULP = Number.EPSILON;

/** What the doc comment states: within 1e-14, times 1/alpha, lies a multiple with this time to 8 units in the last place. */
function hasTime(setting: CurveSetting, multiple: number, time: number): void {
  const { curve } = setting;
  const bare = typeof curve === "string" ? standardCurve(curve) : curve;
  const away = (1e-14 / Math.min(1, "alpha" in bare ? bare.alpha : 1)) * (curveSide(curve) === "over" ? 1 : -1);
  const at = (tried: number) => operateTime(setting, bare.form === "table" ? Math.min(100, Math.max(1, tried)) : tried);
  expect(at(multiple * (1 - away))).toBeGreaterThanOrEqual(time * (1 - 8 * ULP));
  expect(at(multiple * (1 + away))).toBeLessThanOrEqual(time * (1 + 8 * ULP));
}

describe("for a time that a function has", () => {
  test("there is a multiple with this time, unless all have it", () => {
    holds(
      fc.property(asked, ({ setting, isOver, multiple }) => {
        const time = operateTime(setting, multiple);
        fc.pre(time > 0);
        const answer = multipleForTime(setting, time);
        if (answer.kind === "found") return hasTime(setting, answer.multiple, time);
        expect(answer.reason).toBe("any-multiple");
        for (const other of isOver ? [1.51, 3, 100] : [0.99, 0.5, 0])
          expect(Math.abs(operateTime(setting, other) - time)).toBeLessThanOrEqual(4 * ULP * time);
      }),
      5000,
    );
  });

  test("there is a multiplier with this time, unless the curve has no time of its own", () => {
    holds(
      fc.property(asked, ({ setting, multiple }) => {
        const time = operateTime(setting, multiple);
        fc.pre(time > 0);
        const answer = multiplierForTime(setting, { multiple, time });
        if (answer.kind === "found") {
          const back = operateTime({ ...setting, multiplier: answer.multiplier }, multiple);
          expect(Math.abs(back - time)).toBeLessThanOrEqual(8 * ULP * time);
        } else {
          expect(answer.reason).toBe("any-multiplier");
          expect(setting.curve).toEqual({ form: "definite", time: 0 });
        }
      }),
      5000,
    );
  });

  test("a time that is added alone has any multiplier, as any multiple", () => {
    const setting = { curve: { form: "definite", time: 0 }, addedTime: 0.1 } as const;
    const any = { kind: "none", reason: "any-multiplier" };
    expect(multiplierForTime(setting, { multiple: 2, time: 0.1 })).toEqual(any);
    expect(multiplierForTime({ ...setting, minimumTime: 0.2 }, { multiple: 2, time: 0.1 + 0.2 })).toEqual(any);
  });

  const very = { curve: "iec-very-inverse" } as const;
  const drawn = (...points: readonly (readonly [number, number])[]) =>
    ({ form: "table", points: points.map(([multiple, time]) => ({ multiple, time })) }) as const;
  const shelf = drawn([2, 5], [3, 5], [10, 1]);
  const any: readonly (readonly [string, CurveSetting, number])[] = [
    ["a floor above a definite time", { curve: { form: "definite", time: 1 }, minimumTime: 2 }, 2],
    // 13.5/(1.5 − 1) = 27
    ["a floor above the slowest", { ...very, startRatio: 1.5, minimumTime: 50 }, 50],
    ["a floor at the slowest", { ...very, startRatio: 1.5, minimumTime: 27 }, 27],
    ["a floor above the longest", { curve: { form: "energy", k: 10, maximumTime: 5 }, minimumTime: 10 }, 10],
    ["a floor above all points", { curve: drawn([2, 5], [10, 1]), minimumTime: 10 }, 10],
    ["points of one time", { curve: drawn([2, 5], [10, 5]) }, 5],
    ["a ceiling on a level stretch", { curve: { form: "energy", k: 10, maximumTime: 5 }, ceilingMultiple: 1 }, 5],
    ["0.3 + 0.1 s", { curve: { form: "definite", time: 0.3 }, addedTime: 0.1 }, 0.4],
    ["0.2 · 0.4 s", { curve: { form: "definite", time: 0.4 }, multiplier: 0.2 }, 0.08],
    ["nothing but what is added", { curve: { form: "definite", time: 0 }, addedTime: 0.1 }, 0.1],
  ];
  test.each(any)("every multiple has it with %s", (_what, setting, time) => {
    expect(multipleForTime(setting, time)).toEqual({ kind: "none", reason: "any-multiple" });
    expect(multipleForTime(setting, time * (1 + 1e-12))).toEqual({ kind: "none", reason: "too-slow" });
    expect(multipleForTime(setting, time * (1 - 1e-12)).kind).toBe("none");
  });

  // 8/M between 2 and 8
  const hyperbola = drawn([2, 4], [8, 1]);
  const corners: readonly (readonly [string, CurveSetting, number, number])[] = [
    ["a level stretch begins", { curve: drawn([1, 9], [2, 5], [3, 5]) }, 5, 2],
    ["a table begins", { curve: shelf }, 5, 2],
    ["a level stretch ends in which it starts", { curve: shelf, startRatio: 2.5 }, 5, 3],
    ["the longest time ends", { curve: { form: "energy", k: 20, maximumTime: 5 } }, 5, 2],
    ["it ends, started in it", { curve: { form: "energy", k: 20, maximumTime: 5 }, startRatio: 1 }, 5, 2],
    ["the ceiling begins", { curve: hyperbola, ceilingMultiple: 4 }, 2, 4],
    ["the ceiling begins, on a stretch that is level beyond it", { curve: shelf, ceilingMultiple: 10 }, 1, 10],
    ["the floor begins", { curve: hyperbola, minimumTime: 2 }, 2, 4],
    ["the floor begins, a point beyond it", { curve: drawn([2, 4], [8, 1], [9, 1]), minimumTime: 2 }, 2, 4],
    ["the table ends", { curve: hyperbola, multiplier: 0.3, addedTime: 0.1 }, 0.4, 8],
  ];
  test.each(corners)("it is the multiple where %s", (_what, setting, time, multiple) => {
    const answer = multipleForTime(setting, time);
    expect(answer).toEqual({ kind: "found", multiple: expect.closeTo(multiple, 13) });
  });

  test("rounding does not lead from one end of a level stretch to the other", () => {
    const curve = drawn([1, 9], [2, 5], [3, 5], [9, 1]);
    holds(
      fc.property(typed(0.05, 10), typed(0, 0.5), between(2, 3), (multiplier, addedTime, multiple) => {
        const setting = { curve, multiplier, addedTime };
        expect(multipleForTime(setting, operateTime(setting, multiple))).toEqual({ kind: "found", multiple: 2 });
      }),
    );
  });

  test("a start within the curve keeps the multiples right beside it", () => {
    for (const startRatio of [1.01, 1.2, 1.3, 1.5, 1.7, 2]) {
      const setting = { ...very, startRatio };
      for (const steps of [1, 2, 3]) {
        const multiple = startRatio * (1 + steps * ULP);
        const answer = multipleForTime(setting, operateTime(setting, multiple));
        expect(answer).toEqual({ kind: "found", multiple: expect.closeTo(multiple, 14) });
        expect(answer.kind === "found" && answer.multiple > startRatio).toBe(true);
      }
    }
    for (const startRatio of [0.5, 0.8, 0.9]) {
      const setting = { curve: "undervoltage-inverse", startRatio } as const;
      const answer = multipleForTime(setting, operateTime(setting, startRatio * (1 - ULP)));
      expect(answer.kind === "found" && answer.multiple < startRatio).toBe(true);
    }
  });

  const reasons: readonly (readonly [string, CurveSetting, number, string])[] = [
    ["faster than the ceiling lets it be", { curve: hyperbola, ceilingMultiple: 4 }, 1.5, "beyond-ceiling"],
    ["faster than the last point, whatever the ceiling", { curve: hyperbola, ceilingMultiple: 4 }, 0.9, "too-fast"],
    ["that a table has only below its start", { curve: hyperbola, startRatio: 8 }, 1, "too-slow"],
    ["of a voltage below 0", { curve: "undervoltage-inverse", addedTime: 0.1 }, 1.09, "too-fast"],
    ["below what is added, whatever the floor", { ...very, addedTime: 0.5, minimumTime: 1 }, 0.4, "too-fast"],
    ["as short as what is added", { curve: "iec-inverse", addedTime: 0.1 }, 0.1, "too-fast"],
  ];
  test.each(reasons)("there is none for one %s", (_what, setting, time, reason) => {
    expect(multipleForTime(setting, time)).toEqual({ kind: "none", reason });
  });
});

test("low voltages keep their digits: M = (t − 1)/t", () => {
  const low = fc.double({ min: 1e-12, max: 0.99, noNaN: true });
  holds(
    fc.property(low, (wanted) => {
      const time = operateTime({ curve: "undervoltage-inverse" }, wanted);
      const answer = multipleForTime({ curve: "undervoltage-inverse" }, time);
      const exact = exactly(time).minus(1).div(exactly(time));
      if (answer.kind === "none") throw new Error(answer.reason);
      expect(exactly(answer.multiple).minus(exact).abs().toNumber()).toBeLessThanOrEqual(2 * ULP * exact.toNumber());
    }),
  );
});
