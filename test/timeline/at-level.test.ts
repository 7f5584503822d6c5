import { Decimal } from "decimal.js";
import fc from "fast-check";
import { atLevel } from "tripwright/timeline";
import { describe, expect, test } from "vitest";
import { ulpOf } from "../support/distance.js";
import { problemsOf } from "../support/failure.js";
import { holds } from "../support/holds.js";

const D = Decimal.clone({ defaults: true, precision: 120 });
/** A double as the binary fraction that it is, not as its shortest decimal. */
const exactly = (x: number): Decimal => new D(x.toPrecision(100));

const MOVED = ["rms", "frequency", "angle"] as const;
const eighths = (most: number) => fc.integer({ min: -8 * most, max: 8 * most }).map((n) => n / 8);

function frozen<T>(value: T): T {
  if (typeof value === "object" && value !== null) Object.values(Object.freeze(value)).forEach(frozen);
  return value;
}

describe("atLevel", () => {
  test("moves rms, frequency and angle to base + slope · level, with one product and one sum in doubles", () => {
    const size = fc.double({ min: 1e-3, max: 1e3, noNaN: true });
    holds(
      fc.property(fc.constantFrom(...MOVED), size, size, size, (name, start, by, level) => {
        const base = { i: { rms: 1, frequency: 50, [name]: start } };
        const moved = atLevel(base, { lever: { i: { [name]: by } }, level })["i"]![name]!;
        const off = exactly(moved)
          .minus(exactly(start).plus(exactly(by).times(exactly(level))))
          .abs()
          .toNumber();
        expect(off).toBeLessThanOrEqual((ulpOf(by * level) + ulpOf(moved)) / 2);
      }),
    );
  });

  test("one level moves many quantities of many channels at once, and nothing else", () => {
    const base = frozen({
      va: { rms: 60, frequency: 50, angle: 0, harmonics: [{ order: 3, rms: 1 }] },
      vb: { rms: 60, frequency: 50, angle: -120 },
      i: { rms: 1, frequency: 50 },
    });
    const lever = frozen({ va: { rms: -0.5, frequency: 0.25 }, vb: { angle: 2 } });
    expect(atLevel(base, { lever, level: 8 })).toEqual({
      va: { rms: 56, frequency: 52, angle: 0, harmonics: [{ order: 3, rms: 1 }] },
      vb: { rms: 60, frequency: 50, angle: -104 },
      i: { rms: 1, frequency: 50 },
    });
  });

  test("pushing a lever twice is pushing it once by the sum", () => {
    // In eighths every product and sum is exact.
    holds(
      fc.property(eighths(9), eighths(9), eighths(4), fc.constantFrom(...MOVED), (first, second, by, name) => {
        const base = frozen({ i: { rms: 1000, frequency: 1000, angle: 30 } });
        const lever = frozen({ i: { [name]: by } });
        const twice = atLevel(atLevel(base, { lever, level: first }), { lever, level: second });
        expect(twice).toEqual(atLevel(base, { lever, level: first + second }));
      }),
    );
  });

  test("a level that takes an rms value or a frequency to exactly 0 is allowed", () => {
    const base = { i: { rms: 3, frequency: 50 } };
    expect(atLevel(base, { lever: { i: { rms: -1 } }, level: 3 })["i"]!.rms).toBe(0);
    expect(atLevel(base, { lever: { i: { frequency: -5 } }, level: 10 })["i"]!.frequency).toBe(0);
  });

  test("an angle goes through 0 as it is, where an rms value that ends a hair below it is 0", () => {
    const at = (name: "rms" | "angle", level: number) =>
      atLevel({ i: { rms: 30, frequency: 50, angle: 30 } }, { lever: { i: { [name]: -1 } }, level })["i"]![name];
    const hair = 30 + 2 ** -40;
    expect(at("angle", hair)).toBe(-(2 ** -40));
    expect(at("rms", hair)).toBe(0);
  });

  test("a −0 that was given comes back as 0, whether it is moved or not", () => {
    const base = { i: { rms: -0, frequency: -0, angle: -0, slope: { frequency: -0 } } };
    const still = { rms: 0, frequency: 0, angle: 0 };
    expect(atLevel(base, { lever: { i: { angle: 1, frequencyRate: 1 } }, level: -0 })["i"]).toEqual({
      ...still,
      slope: { frequency: 0 },
    });
  });

  const base = { i: { rms: 3, frequency: 50 } };
  const pushed = { lever: { i: { rms: 1 } }, level: 1 };
  test.each([
    [
      "a lever on a channel that is not there",
      base,
      { ...pushed, lever: { j: { rms: 1 } } },
      "unknown-name",
      "lever.j",
    ],
    ["a level that drives rms below 0", base, { ...pushed, level: -4 }, "out-of-range", "lever.i.rms"],
    [
      "a level that drives the frequency below 0",
      base,
      { lever: { i: { frequency: -1 } }, level: 51 },
      "out-of-range",
      "lever.i.frequency",
    ],
    ["a level that is not finite", base, { ...pushed, level: Number.NaN }, "not-finite", "level"],
    ["a slope that is not finite", base, { ...pushed, lever: { i: { rms: Number.NaN } } }, "not-finite", "lever.i.rms"],
    ["a misspelt quantity", base, { ...pushed, lever: { i: { rns: 1 } } }, "unknown-key", "lever.i.rns"],
    ["a misspelt key", base, { ...pushed, levels: 1 }, "unknown-key", "levels"],
    ["a base without frequency", { i: { rms: 3 } }, pushed, "missing", "base.i.frequency"],
    ["a level beyond a double", base, { lever: { i: { rms: 1e300 } }, level: 1e300 }, "out-of-range", "lever.i.rms"],
  ])("%s is refused by name", (_, states, at, code, path) => {
    expect(problemsOf(() => atLevel(states as never, at as never))).toMatchObject([{ code, path }]);
  });

  test.each([
    ["rms", { rms: 1e300 }, 1e300],
    ["rms", { rms: 1 }, -5],
    ["frequency", { frequency: 1 }, -51],
    ["frequencyRate", { frequencyRate: 1e300 }, 1e300],
  ])("what came is the level where it drives %s too far", (field, lift, level) => {
    const problems = problemsOf(() => atLevel({ i: { rms: 0, frequency: 50 } }, { lever: { i: lift }, level }));
    const received = JSON.stringify(level);
    expect(problems).toMatchObject([{ code: "out-of-range", path: `lever.i.${field}`, received }]);
  });
});
