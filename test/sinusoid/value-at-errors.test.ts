import { type Sinusoid, valueAt } from "tripwright/sinusoid";
import { describe, expect, test } from "vitest";
import { problemsOf } from "../support/failure.js";

const GOOD: Sinusoid = { rms: 63.5, frequency: 50 };

function problem(sinusoid: unknown, t: unknown = 0): string {
  const [first, ...more] = problemsOf(() => valueAt(sinusoid as Sinusoid, t as number));
  expect(more).toEqual([]);
  return `${first?.path} ${first?.code}`;
}

describe("the value of a sinusoid is refused", () => {
  test("for a part that is no finite number in its domain, at its path", () => {
    const harmonic = { order: 3, rms: 1 };
    const rows: readonly (readonly [object, string])[] = [
      [{ rms: -1 }, "rms out-of-range"],
      [{ rms: undefined }, "rms missing"],
      [{ rms: "63.5" }, "rms wrong-type"],
      [{ frequency: -50 }, "frequency out-of-range"],
      [{ frequency: Number.NaN }, "frequency not-finite"],
      [{ angle: Number.POSITIVE_INFINITY }, "angle not-finite"],
      [{ angle: null }, "angle wrong-type"],
      [{ offset: Number.NaN }, "offset not-finite"],
      [{ decay: { initial: Number.NaN, tau: 1 } }, "decay.initial not-finite"],
      [{ decay: { initial: 1 } }, "decay.tau missing"],
      [{ decay: { initial: 1, tau: 0 } }, "decay.tau out-of-range"],
      [{ harmonics: [harmonic, { order: 5, rms: -1 }] }, "harmonics[1].rms out-of-range"],
      [{ harmonics: [{ ...harmonic, order: 0 }] }, "harmonics[0].order out-of-range"],
      [{ harmonics: [{ rms: 1 }] }, "harmonics[0].order missing"],
      [{ harmonics: [harmonic, harmonic, { ...harmonic, angle: "0" }] }, "harmonics[2].angle wrong-type"],
    ];
    for (const [wrong, expected] of rows) expect(problem({ ...GOOD, ...wrong })).toBe(expected);
  });

  test("for a time that is no finite number", () => {
    expect(problem(GOOD, Number.NaN)).toBe("t not-finite");
    expect(problem(GOOD, "0")).toBe("t wrong-type");
    expect(problem(GOOD, null)).toBe("t wrong-type");
  });

  test("for no sinusoid at all", () => {
    expect(problem(undefined)).toBe(" missing");
    for (const wrong of [null, 5, [63.5, 50]]) expect(problem(wrong)).toBe(" wrong-type");
  });

  test("for a decaying part or harmonics that are no objects, with a problem and not a slip of the code", () => {
    for (const decay of [null, [1, 2]]) expect(problem({ ...GOOD, decay })).toMatch(/^decay/);
    for (const harmonics of [null, 5, { order: 3, rms: 1 }])
      expect(problem({ ...GOOD, harmonics })).toMatch(/^harmonics/);
    for (const harmonic of [null, undefined])
      expect(problem({ ...GOOD, harmonics: [harmonic] })).toMatch(/^harmonics\[0\]/);
  });

  test("where it is beyond the range of a double, rather than infinite or NaN", () => {
    expect(problem({ rms: 1.7e308, frequency: 50 })).toBe("t out-of-range");
    expect(problem({ ...GOOD, decay: { initial: 1, tau: 1 } }, -1000)).toBe("t out-of-range");
    expect(problem({ rms: 1, frequency: 1e200 }, 1e200)).toBe("t out-of-range");
  });
});
