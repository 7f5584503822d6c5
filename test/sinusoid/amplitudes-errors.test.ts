import { amplitudes, type KnownAmplitude, type Shape } from "tripwright/sinusoid";
import { describe, expect, test } from "vitest";
import { problemsOf } from "../support/failure.js";

const NAMES = ["rms", "peak", "peakToPeak", "averageRectified"];

function problem(known: unknown, shape?: unknown): string {
  const [first, ...more] = problemsOf(() => amplitudes(known as KnownAmplitude, shape as Shape));
  expect(more).toEqual([]);
  return `${first?.path} ${first?.code}`;
}

describe("amplitudes are refused", () => {
  test("for a value that is no finite number of 0 or more", () => {
    for (const name of NAMES) {
      expect(problem({ [name]: -1 })).toBe(`${name} out-of-range`);
      expect(problem({ [name]: Number.NaN })).toBe(`${name} not-finite`);
      expect(problem({ [name]: Number.POSITIVE_INFINITY })).toBe(`${name} not-finite`);
      expect(problem({ [name]: "1" })).toBe(`${name} wrong-type`);
      expect(problem({ [name]: null })).toBe(`${name} wrong-type`);
    }
  });

  test("for none, or something that is no object", () => {
    for (const known of [{}, { rms: undefined }]) expect(problem(known)).toBe(" missing");
    expect(problem(undefined)).toBe(" missing");
    for (const known of [null, 5, "rms", [1]]) expect(problem(known)).toBe(" wrong-type");
  });

  test("for several at once, but not beside one that is undefined", () => {
    for (const name of NAMES.filter((name) => name !== "peak"))
      expect(problem({ peak: 1, [name]: 1 })).toBe(`${name} conflict`);
    expect(problem({ rms: 1, shape: "square" })).toBe("shape conflict");
    expect(amplitudes({ rms: 1, peak: undefined } as unknown as KnownAmplitude).rms).toBe(1);
  });

  test("for a name that no amplitude has", () => {
    for (const name of ["mean", "RMS", "constructor", "toString"])
      expect(problemsOf(() => amplitudes({ [name]: 1 } as never))[0]?.expected).toContain(NAMES.join(", "));
  });

  test("for a shape that is none", () => {
    for (const shape of ["Sine", "", "constructor", "__proto__", null, 1])
      expect(problem({ rms: 1 }, shape)).toBe("shape unknown-name");
  });

  test("where one of them is beyond the range of a double, rather than infinite", () => {
    expect(problem({ rms: 1.5e308 })).toBe("rms out-of-range");
    expect(problem({ peak: 1e308 })).toBe("peak out-of-range");
    expect(problem({ averageRectified: 1e308 }, "half-wave")).toBe("averageRectified out-of-range");
    expect(amplitudes({ peakToPeak: Number.MAX_VALUE }).peak).toBe(Number.MAX_VALUE / 2);
  });
});
