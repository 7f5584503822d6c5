import fc from "fast-check";
import { band, grade } from "tripwright/grading";
import { describe, expect, test } from "vitest";
import { minutes, shown } from "../../src/report/shown.js";
import { holds } from "../support/holds.js";

describe("limits are printed inward", () => {
  test.each([
    ["both", { nominal: 1.26038, low: 1.19736, high: 1.3234 }, "1.198 to 1.323 s"],
    ["only an upper one", { nominal: 0, high: 0.0416666 }, "at most 0.041 s"],
    ["only a lower one", { nominal: 1, low: 0.9501 }, "at least 0.951 s"],
    [
      "a band narrower than a thousandth keeps its digits",
      { nominal: 0.2, low: 0.1999, high: 0.2001 },
      "0.1999 to 0.2001 s",
    ],
  ])("%s", (_what, accepted, text) => {
    expect(shown(accepted, [], "s").band).toBe(text);
  });

  test("volts have two decimals, everything else three", () => {
    const accepted = { nominal: 1, low: 0.5, high: 1.5 };
    expect(shown(accepted, [], "V").band).toBe("0.50 to 1.50 V");
    expect(shown(accepted, [], "Hz").band).toBe("0.500 to 1.500 Hz");
  });
});

describe("what is printed never contradicts the verdict", () => {
  const read = (text: string) => Number(/[\d.]+/.exec(text)?.[0]);

  function agrees(nominal: number, percent: number, measured: number): void {
    const accepted = band(nominal, { percent });
    const { band: text, measured: printed } = shown(accepted, [measured], "s");
    const [low, high] = text.replace(" s", "").split(" to ").map(Number) as [number, number];
    const value = read(printed[0] as string);
    expect(value >= low && value <= high, `${measured} in ${text}`).toBe(
      grade(measured, accepted).verdict === "within",
    );
  }

  test("for readings with any number of digits", () => {
    const digits = fc.tuple(
      fc.integer({ min: 0, max: 30_000_000 }),
      fc.constantFrom(1e-2, 1e-3, 1e-4, 1e-5, 1e-6, 1e-7),
    );
    holds(
      fc.property(
        fc.integer({ min: 100, max: 30_000 }),
        fc.integer({ min: 1, max: 20 }),
        digits,
        (n, percent, [m, place]) => {
          agrees(n / 7000, percent, m * place);
        },
      ),
      500,
    );
  });

  test("for readings a hair on either side of a limit, and on it", () => {
    holds(
      fc.property(
        fc.integer({ min: 100, max: 30_000 }),
        fc.integer({ min: 1, max: 20 }),
        fc.constantFrom(-1e-7, -1e-9, 0, 1e-9, 1e-7),
        (n, percent, off) => {
          const { high = 0, low = 0 } = band(n / 7000, { percent });
          agrees(n / 7000, percent, high + off);
          agrees(n / 7000, percent, low + off);
        },
      ),
      500,
    );
  });
});

test.each([
  [0.35, "0.35 s"],
  [59.94, "59.9 s"],
  [60, "1 min 0 s"],
  [736.43, "12 min 17 s"],
])("%f seconds are spoken of as %s", (seconds, text) => {
  expect(minutes(seconds)).toBe(text);
});
