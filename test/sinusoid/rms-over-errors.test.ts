import { meanOver, rmsOver } from "tripwright/sinusoid";
import { describe, expect, test } from "vitest";
import { problemsOf } from "../support/failure.js";

const GOOD = { rms: 1, frequency: 50 };
const WINDOW = { from: 0, to: 0.02 };

function problem(sinusoid: unknown, window: unknown): string {
  const [rms, mean] = [rmsOver, meanOver].map((over) => {
    const [first, ...more] = problemsOf(() => over(sinusoid as never, window as never));
    expect(more).toEqual([]);
    return `${first?.path} ${first?.code}`;
  });
  expect(mean).toBe(rms);
  return String(rms);
}

describe("rms and mean over a window are refused", () => {
  test("for a window that does not end after it begins, or has no ends", () => {
    for (const to of [0, -1]) expect(problem(GOOD, { from: 0, to })).toBe("to out-of-range");
    expect(problem(GOOD, { from: 1, to: 1 })).toBe("to out-of-range");
    expect(problem(GOOD, { from: 0, to: Number.POSITIVE_INFINITY })).toBe("to not-finite");
    expect(problem(GOOD, { from: Number.NEGATIVE_INFINITY, to: 0 })).toBe("from not-finite");
    expect(problem(GOOD, { from: Number.NaN, to: 0 })).toBe("from not-finite");
    expect(problem(GOOD, { from: "0", to: 1 })).toBe("from wrong-type");
    expect(problem(GOOD, { from: 0, to: null })).toBe("to wrong-type");
    expect(problem(GOOD, { from: 0 })).toBe("to missing");
    expect(problem(GOOD, { to: 1 })).toBe("from missing");
    expect(problem(GOOD, { ...WINDOW, cycles: 1 })).toBe("cycles unknown-key");
    expect(problem(GOOD, undefined)).toBe(" missing");
    for (const wrong of [null, 0.02, "cycle", [0, 0.02]]) expect(problem(GOOD, wrong)).toBe(" wrong-type");
  });

  test("for what is no sinusoid, at the path of what is wrong", () => {
    expect(problem(undefined, WINDOW)).toBe(" missing");
    for (const wrong of [null, 5, "sine", [1, 50]]) expect(problem(wrong, WINDOW)).toBe(" wrong-type");
    const rows: readonly (readonly [object, string])[] = [
      [{ rms: -1 }, "rms out-of-range"],
      [{ rms: Number.NaN }, "rms not-finite"],
      [{ frequency: undefined }, "frequency missing"],
      [{ angle: "0" }, "angle wrong-type"],
      [{ offset: Number.POSITIVE_INFINITY }, "offset not-finite"],
      [{ decay: { initial: 1, tau: 0 } }, "decay.tau out-of-range"],
      [{ decay: null }, "decay wrong-type"],
      [{ harmonics: [{ order: 3, rms: -1 }] }, "harmonics[0].rms out-of-range"],
      [{ harmonics: {} }, "harmonics wrong-type"],
    ];
    for (const [wrong, expected] of rows) expect(problem({ ...GOOD, ...wrong }, WINDOW)).toBe(expected);
  });

  test("where they are beyond the range of a double, rather than infinite or NaN", () => {
    expect(problem({ ...GOOD, decay: { initial: 1, tau: 1e-3 } }, { from: -1000, to: -999 })).toBe("to out-of-range");
    expect(problem({ rms: 1, frequency: 1e200 }, { from: 1e200, to: 2e200 })).toBe("to out-of-range");
  });
});
