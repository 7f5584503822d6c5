import { type ShortCircuitInputs, shortCircuit } from "tripwright/phasor";
import { describe, expect, test } from "vitest";
import { problemsOf } from "../support/failure.js";

const j = (im: number) => ({ re: 0, im });
const good = { type: "line-to-ground", voltage: { re: 1, im: 0 }, z1: j(0.1), z2: j(0.1), z0: j(0.2) };

const problem = (inputs: unknown): string => {
  const [first, ...more] = problemsOf(() => shortCircuit(inputs as ShortCircuitInputs));
  expect(more).toEqual([]);
  return `${first?.path} ${first?.code}`;
};

describe("what is no short circuit", () => {
  test("is told by name", () => {
    expect(problem(undefined)).toBe(" missing");
    expect(problem(null)).toBe(" wrong-type");
    expect(problem({ ...good, z3: j(1) })).toBe("z3 unknown-key");
    for (const type of [undefined, "LG", "line to ground", "toString"])
      expect(problem({ ...good, type })).toBe("type unknown-name");
    expect(problem({ ...good, rotation: "CBA" })).toBe("rotation unknown-name");
  });

  test("has a phasor that is none", () => {
    for (const name of ["voltage", "z1", "z2", "z0", "zFault", "zGround"]) {
      for (const type of ["three-phase", "line-to-line", "line-to-ground", "double-line-to-ground"]) {
        expect(problem({ ...good, type, [name]: null })).toBe(`${name} wrong-type`);
        expect(problem({ ...good, type, [name]: 0.25 })).toBe(`${name} wrong-type`);
        expect(problem({ ...good, type, [name]: { re: Number.NaN, im: 0 } })).toBe(`${name}.re not-finite`);
        expect(problem({ ...good, type, [name]: { re: 0 } })).toBe(`${name}.im missing`);
      }
    }
    expect(problem({ ...good, voltage: undefined })).toBe("voltage missing");
    expect(problem({ ...good, z1: undefined })).toBe("z1 missing");
    expect(problem({ ...good, z1: "open" })).toBe("z1 wrong-type");
  });

  test("goes to ground without a zero sequence", () => {
    for (const type of ["line-to-ground", "double-line-to-ground"])
      expect(problem({ ...good, type, z0: undefined })).toBe("z0 missing");
    expect(problem({ ...good, z0: "none" })).toBe("z0 wrong-type");
  });

  test("has nothing that holds the current back", () => {
    const refused = (more: object) => {
      const [first] = problemsOf(() => shortCircuit({ ...good, ...more } as ShortCircuitInputs));
      expect(first).toMatchObject({ code: "out-of-range", path: "", expected: "a total impedance other than 0" });
    };
    refused({ type: "three-phase", z1: j(0) });
    refused({ type: "three-phase", zFault: j(-0.1) });
    refused({ type: "line-to-line", z1: j(0.1), z2: j(-0.1) });
    refused({ z0: j(-0.2) });
    // 0.125 beside −0.0625 is −0.125, and 0.125 before it.
    refused({ type: "double-line-to-ground", z1: j(0.125), z2: j(0.125), z0: j(-0.0625) });
  });

  test("has a current beyond the range of a double", () => {
    expect(problem({ ...good, voltage: { re: 1e300, im: 0 }, z1: j(1e-10), z2: j(1e-10), z0: j(1e-10) })).toBe(
      " out-of-range",
    );
  });
});
