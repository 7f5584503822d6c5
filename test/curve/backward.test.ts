/** multipleForTime and multiplierForTime: operateTime, solved. */
import fc from "fast-check";
import { type CurveSetting, multipleForTime, multiplierForTime, operateTime } from "tripwright/curve";
import { describe, expect, test } from "vitest";
import { between, multiples, overSettings } from "../support/curves.js";
import { problemsOf } from "../support/failure.js";
import { holds } from "../support/holds.js";

const close = (actual: number, expected: number, relative: number) =>
  expect(Math.abs(actual - expected)).toBeLessThanOrEqual(relative * Math.abs(expected));

function found<T extends object>(answer: { kind: string } & (T | object)): T {
  expect(answer.kind).toBe("found");
  return answer as T;
}

describe("the multiple for a time", () => {
  test("undoes the operate time of every form, with floor and addition", () => {
    const setting = fc.record({ base: overSettings, addedTime: between(0, 1) });
    holds(
      fc.property(setting, multiples, ({ base, addedTime }, multiple) => {
        const full = { ...base, addedTime };
        const time = operateTime(full, multiple);
        const { multiple: back } = found<{ multiple: number }>(multipleForTime(full, time));
        // A rounding of the time moves the multiple by as much as the curve is flat.
        const flatness = Math.abs(Math.log(operateTime(full, multiple * (1 + 1e-6)) / time)) / 1e-6;
        close(back, multiple, 1e-14 + 2e-15 / Math.max(flatness, 1e-9));
      }),
      1000,
    );
  });

  test("undoes under functions, down to a multiple of 0", () => {
    const setting = { curve: "undervoltage-inverse", multiplier: 0.5 } as const;
    expect(multipleForTime(setting, operateTime(setting, 0))).toEqual({ kind: "found", multiple: 0 });
    holds(
      fc.property(between(0, 0.99), (multiple) => {
        const back = found<{ multiple: number }>(multipleForTime(setting, operateTime(setting, multiple)));
        expect(Math.abs(back.multiple - multiple)).toBeLessThan(1e-14);
      }),
    );
  });

  test("undoes a thermal curve that starts cold, and a table between its points and on them", () => {
    const table: CurveSetting = {
      curve: {
        form: "table",
        points: [
          { multiple: 2, time: 10 },
          { multiple: 5, time: 2 },
          { multiple: 20, time: 2 },
        ],
      },
    };
    const thermal: CurveSetting = { curve: { form: "thermal", tau: 600 } };
    for (const setting of [table, thermal]) {
      for (const multiple of [2, 2.5, 4, 5]) {
        close(
          found<{ multiple: number }>(multipleForTime(setting, operateTime(setting, multiple))).multiple,
          multiple,
          1e-13,
        );
      }
    }
  });

  const very = { curve: "ieee-very-inverse" } as const; // 19.61/(M² − 1) + 0.491
  test.each([
    ["at or below multiplier · c", { ...very, multiplier: 2 }, 0.982, "too-fast"],
    ["no longer than what is added", { ...very, addedTime: 0.5 }, 0.5, "too-fast"],
    ["below the floor", { ...very, minimumTime: 1 }, 0.99, "below-minimum-time"],
    ["faster than the ceiling lets it be", { ...very, ceilingMultiple: 20 }, 0.5, "beyond-ceiling"],
    ["slower than at the start", { ...very, startRatio: 1.2 }, 60, "too-slow"],
    ["that every multiple has", { curve: { form: "definite", time: 1 } }, 1, "any-multiple"],
    ["that no multiple has, for a definite time", { curve: { form: "definite", time: 1 } }, 2, "too-slow"],
    ["beyond the longest of an energy curve", { curve: { form: "energy", k: 10, maximumTime: 100 } }, 101, "too-slow"],
    ["faster than an under function at 0", { curve: "undervoltage-inverse" }, 0.9, "too-fast"],
    [
      "outside a table",
      {
        curve: {
          form: "table",
          points: [
            { multiple: 2, time: 10 },
            { multiple: 5, time: 2 },
          ],
        },
      },
      1,
      "too-fast",
    ],
  ] as const)("there is none for a time %s", (_what, setting, time, reason) => {
    expect(multipleForTime(setting, time)).toEqual({ kind: "none", reason });
  });

  test("the time at the ceiling belongs to the ceiling", () => {
    holds(
      fc.property(between(2, 40), (ceilingMultiple) => {
        const setting = { ...very, ceilingMultiple };
        const answer = multipleForTime(setting, operateTime(setting, 100));
        close(found<{ multiple: number }>(answer).multiple, ceilingMultiple, 1e-13);
      }),
    );
  });
});

describe("no multiple for a time, or only just one", () => {
  test("at the floor there is one, below it none", () => {
    const floored = { curve: "iec-very-inverse", multiplier: 0.2, minimumTime: 1.35 } as const;
    expect(multipleForTime(floored, 1.35)).toEqual({ kind: "found", multiple: 3 });
    expect(multipleForTime(floored, 1.3)).toEqual({ kind: "none", reason: "below-minimum-time" });
  });

  test("a table has none slower than its first point, and none faster than its last", () => {
    const points = [{ multiple: 2, time: 5 }, { multiple: 4, time: 3 }]; // biome-ignore format: a table
    const drawn = { curve: { form: "table", points } } as const;
    expect(multipleForTime(drawn, 6)).toEqual({ kind: "none", reason: "too-slow" });
    expect(multipleForTime(drawn, 5)).toEqual({ kind: "found", multiple: 2 });
    expect(multipleForTime(drawn, 3)).toEqual({ kind: "found", multiple: 4 });
    expect(multipleForTime(drawn, 2)).toEqual({ kind: "none", reason: "too-fast" });
  });

  test("at the floor there is a multiplier, below it none", () => {
    const floored = { curve: "iec-very-inverse", minimumTime: 1.35 } as const;
    expect(multiplierForTime(floored, { multiple: 3, time: 1.35 })).toEqual({ kind: "found", multiplier: 0.2 });
    expect(multiplierForTime(floored, { multiple: 3, time: 1.3 })).toEqual({
      kind: "none",
      reason: "below-minimum-time",
    });
  });

  test("one that does not fit a double is none", () => {
    const flat = { form: "inverse", k: 1, alpha: 0.001, c: 0 } as const;
    expect(multipleForTime({ curve: flat }, 1e-3)).toEqual({ kind: "none", reason: "too-fast" });
  });

  test("of an under function at the time without voltage is 0 up to rounding, never below", () => {
    const constants = fc.record({ k: between(0.01, 10), c: between(0.01, 10), alpha: fc.constantFrom(0.5, 1, 2) });
    holds(
      fc.property(constants, (law) => {
        const answer = multipleForTime({ curve: { form: "under", ...law } }, law.k + law.c);
        if (answer.kind === "none") expect(answer.reason).toBe("too-fast");
        else expect(answer.multiple >= 0 && answer.multiple < 1e-5).toBe(true);
      }),
      500,
    );
  });
});

describe("the multiplier for a point", () => {
  test("leads the curve through it", () => {
    holds(
      fc.property(overSettings, multiples, between(0.1, 100), (setting, multiple, time) => {
        const { multiplier } = found<{ multiplier: number }>(multiplierForTime(setting, { multiple, time }));
        close(operateTime({ ...setting, multiplier }, multiple), time, 1e-14);
      }),
    );
  });

  const inverse = { curve: "iec-inverse" } as const;
  test.each([
    ["not started", inverse, { multiple: 1, time: 1 }, "not-operating"],
    ["no longer than what is added", { ...inverse, addedTime: 1 }, { multiple: 2, time: 1 }, "too-fast"],
    ["below the floor", { ...inverse, minimumTime: 2 }, { multiple: 2, time: 1 }, "below-minimum-time"],
    ["a curve without time", { curve: { form: "definite", time: 0 } }, { multiple: 2, time: 1 }, "any-multiplier"],
  ] as const)("there is none where the point is %s", (_what, setting, point, reason) => {
    expect(multiplierForTime(setting, point)).toEqual({ kind: "none", reason });
  });

  test("bad points are refused by name", () => {
    expect(problemsOf(() => multiplierForTime(inverse, { multiple: -1, time: 1 }))[0]?.path).toBe("multiple");
    expect(problemsOf(() => multiplierForTime(inverse, { multiple: 2, time: 0 }))[0]?.path).toBe("time");
    expect(problemsOf(() => multipleForTime(inverse, -1))[0]?.path).toBe("seconds");
  });
});
