import { type FaultCurrent, offsetSinusoid } from "tripwright/sinusoid";
import { describe, expect, test } from "vitest";
import { problemsOf } from "../support/failure.js";

const GOOD = { rms: 1, frequency: 50, angle: 0, xOverR: 10 };

function problem(current: unknown): string {
  const [first, ...more] = problemsOf(() => offsetSinusoid(current as FaultCurrent));
  expect(more).toEqual([]);
  return `${first?.path} ${first?.code}`;
}

describe("the current of a fault is refused", () => {
  test("for a value that is no number in its domain, at its path", () => {
    const rows: readonly (readonly [object, string])[] = [
      [{ rms: -1 }, "rms out-of-range"],
      [{ rms: undefined }, "rms missing"],
      [{ rms: "1" }, "rms wrong-type"],
      [{ rms: Number.POSITIVE_INFINITY }, "rms not-finite"],
      [{ rms: 1.5e308 }, "rms out-of-range"],
      [{ frequency: 0 }, "frequency out-of-range"],
      [{ frequency: -50 }, "frequency out-of-range"],
      [{ frequency: undefined }, "frequency missing"],
      [{ frequency: Number.POSITIVE_INFINITY }, "frequency not-finite"],
      [{ angle: Number.NaN }, "angle not-finite"],
      [{ angle: null }, "angle wrong-type"],
      [{ angle: undefined }, "angle missing"],
      [{ angle: undefined, inception: "0" }, "inception wrong-type"],
      [{ angle: undefined, inception: Number.POSITIVE_INFINITY }, "inception not-finite"],
      [{ xOverR: -1 }, "xOverR out-of-range"],
      [{ xOverR: Number.NaN }, "xOverR not-finite"],
      [{ xOverR: Number.NEGATIVE_INFINITY }, "xOverR not-finite"],
      [{ xOverR: null }, "xOverR wrong-type"],
      [{ xOverR: undefined, tau: -0.1 }, "tau out-of-range"],
      [{ xOverR: undefined, tau: "45 ms" }, "tau wrong-type"],
    ];
    for (const [wrong, expected] of rows) expect(problem({ ...GOOD, ...wrong })).toBe(expected);
  });

  test("for two ways to say where it begins or how it decays, and for none", () => {
    expect(problem({ ...GOOD, inception: 0 })).toBe("inception conflict");
    expect(problem({ ...GOOD, tau: 0.045 })).toBe("tau conflict");
    expect(problem({ rms: 1, frequency: 50, xOverR: 10 })).toBe("angle missing");
    expect(problem({ rms: 1, frequency: 50, angle: 0 })).toBe("xOverR missing");
  });

  test("for a misspelt key, and for what is no object", () => {
    expect(problem({ ...GOOD, inceptoin: 0 })).toBe("inceptoin unknown-key");
    expect(problem({ ...GOOD, offset: 1 })).toBe("offset unknown-key");
    expect(problem(undefined)).toBe(" missing");
    for (const wrong of [null, 5, "fault", [1, 50]]) expect(problem(wrong)).toBe(" wrong-type");
  });
});
