import { meterReading } from "tripwright/sinusoid";
import { describe, expect, test } from "vitest";
import { problemsOf } from "../support/failure.js";

function problem(wave: unknown, meter: unknown = "true-rms"): string {
  const [first, ...more] = problemsOf(() => meterReading(wave as never, meter as never));
  expect(more).toEqual([]);
  return `${first?.path} ${first?.code}`;
}

describe("the reading of a meter is refused", () => {
  test("for a kind or a coupling that is none", () => {
    for (const kind of ["rms", "", "constructor", "True-RMS"]) {
      expect(problem({ rms: 1 }, kind)).toBe("meter unknown-name");
      expect(problem({ rms: 1 }, { kind })).toBe("meter.kind unknown-name");
    }
    for (const coupling of ["dc", "AC", null, 1, "toString"])
      expect(problem({ rms: 1 }, { kind: "true-rms", coupling })).toBe("meter.coupling unknown-name");
    expect(problem({ rms: 1 }, {})).toBe("meter.kind unknown-name");
    expect(problem({ rms: 1 }, { kind: "true-rms", couplng: "ac" })).toBe("meter.couplng unknown-key");
    for (const meter of [null, 5, ["true-rms"]]) expect(problem({ rms: 1 }, meter)).toBe("meter wrong-type");
    expect(problemsOf(() => meterReading({ rms: 1 }, undefined as never))).toMatchObject([
      { path: "meter", code: "missing" },
    ]);
  });

  test("for what is neither samples nor an amplitude with its shape", () => {
    expect(problem(undefined)).toBe("wave missing");
    for (const wave of [null, 5, "sine", true]) expect(problem(wave)).toBe("wave wrong-type");
    expect(problem(new DataView(new ArrayBuffer(8)))).toBe("samples wrong-type");
    expect(problem({})).toBe(" missing");
    expect(problem({ shape: "square" })).toBe(" missing");
    expect(problem({ rms: 1, shape: "pulse" })).toBe("shape unknown-name");
    expect(problem({ rms: -1 })).toBe("rms out-of-range");
    expect(problem({ rms: 1, peak: 2 })).toBe("peak conflict");
  });

  test("for no samples, and for a sample that is no finite number, at its place", () => {
    expect(problem([])).toBe("samples wrong-length");
    expect(problem(new Float64Array())).toBe("samples wrong-length");
    expect(problem([1, 2, Number.NaN])).toBe("samples[2] not-finite");
    expect(problem(Float64Array.of(1, Number.POSITIVE_INFINITY))).toBe("samples[1] not-finite");
    expect(problem([1, "2"])).toBe("samples[1] wrong-type");
    expect(problem([1, undefined])).toBe("samples[1] missing");
  });

  test("where it is beyond the range of a double, rather than infinite", () => {
    expect(problem({ rms: 1.2e308, shape: "square" })).toMatch(/out-of-range$/);
    expect(problem([1.7e308, -1.7e308])).toMatch(/out-of-range$/);
    expect(problem([1.7e308], { kind: "average-responding", coupling: "ac+dc" })).toBe("wave out-of-range");
  });
});
