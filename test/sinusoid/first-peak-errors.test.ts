import { firstPeak } from "tripwright/sinusoid";
import { describe, expect, test } from "vitest";
import { problemsOf } from "../support/failure.js";

const GOOD = { rms: 1, frequency: 50 };

function problem(sinusoid: unknown): string {
  const [first, ...more] = problemsOf(() => firstPeak(sinusoid as never));
  expect(more).toEqual([]);
  return `${first?.path} ${first?.code}`;
}

describe("the first peak is refused", () => {
  test("for what is no sinusoid, at the path of what is wrong", () => {
    expect(problem(undefined)).toBe(" missing");
    for (const wrong of [null, 5, "sine", [1, 50]]) expect(problem(wrong)).toBe(" wrong-type");
    const rows: readonly (readonly [object, string])[] = [
      [{ rms: -1 }, "rms out-of-range"],
      [{ rms: "1" }, "rms wrong-type"],
      [{ angle: Number.NaN }, "angle not-finite"],
      [{ offset: Number.POSITIVE_INFINITY }, "offset not-finite"],
      [{ decay: { initial: 1, tau: Number.POSITIVE_INFINITY } }, "decay.tau not-finite"],
      [{ decay: [1, 2] }, "decay wrong-type"],
      [{ harmonics: [null] }, "harmonics[0] wrong-type"],
    ];
    for (const [wrong, expected] of rows) expect(problem({ ...GOOD, ...wrong })).toBe(expected);
  });

  test("for a frequency of 0, which has no cycle", () => {
    for (const frequency of [0, -0]) expect(problem({ ...GOOD, frequency })).toBe("frequency out-of-range");
    expect(problem({ ...GOOD, frequency: 5e-324 })).toMatch(/ out-of-range$/);
  });

  test("for harmonics of an order that would take too long to search", () => {
    expect(problem({ ...GOOD, harmonics: [{ order: 1001, rms: 1 }] })).toBe("harmonics out-of-range");
    expect(problem({ ...GOOD, harmonics: [{ order: 1e300, rms: 1 }] })).toBe("harmonics out-of-range");
    expect(problem({ rms: 1, frequency: 1e300, harmonics: [{ order: 1e300, rms: 1 }] })).toBe("harmonics out-of-range");
  });

  test("where it is beyond the range of a double, rather than infinite", () => {
    expect(problem({ rms: 1.7e308, frequency: 50 })).toBe("rms out-of-range");
    expect(problem({ rms: 1e308, frequency: 50, offset: 1e308 })).toBe("rms out-of-range");
  });
});
