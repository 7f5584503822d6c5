import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { type QuantityKind, quantityPattern, quantityProblem } from "../../src/base/quantity.js";
import { holds } from "../support/holds.js";
import { spread } from "./spread.js";

const UNITS: { readonly [K in QuantityKind]: readonly string[] } = {
  current: ["A", "mA", "kA", "× rated", "x rated", "*rated", "×\u00a0rated", "pu", "% of nominal", "%  of rated"],
  voltage: ["V", "mV", "kV", "x rated", "× nominal", "% of rated", "pu"],
  time: ["s", "ms", "µs", "μs", "us", "min", "cycle", "cycles"],
  frequency: ["Hz", "mHz", "× rated", "% of nominal"],
  rate: ["Hz/s", "mHz/s"],
  ratio: ["", "%", "percent", "pu"],
  activePower: ["W", "mW", "kW", "MW"],
  power: ["VA", "mVA", "kVA"],
  impedance: ["ohm", "\u03a9", "\u2126", "mohm", "m\u03a9", "m\u2126", "kohm"],
  angle: ["°", "deg", "degrees"],
  percent: ["%", "percent"],
};
const NO_UNITS = ["% of", "of rated", "a", "MA", "mss", "rated", "degree", "° °"];
const kinds = fc.constantFrom(...(Object.keys(UNITS) as QuantityKind[]));
/** A unit beside a kind: of the kind more often than not. */
const unitAndKind = kinds.chain((kind) =>
  fc.tuple(
    fc.oneof(fc.constantFrom(...UNITS[kind]), fc.constantFrom(...Object.values(UNITS).flat(), ...NO_UNITS)),
    fc.constant(kind),
  ),
);

const digits = fc.string({ unit: fc.constantFrom(..."0123456789"), maxLength: 3 });
const space = fc.constantFrom("", "", " ", "\t", "\n", "\u00a0", "\ufeff");
/** Texts made of the parts of a quantity, each now and then wrong: most are nearly right, many are right. */
const nearly = fc
  .tuple(
    fc.tuple(space, fc.constantFrom("", "", "+", "-", "−", "--")),
    fc.tuple(digits, fc.constantFrom("", ".", ".", ",", ".."), digits),
    fc.tuple(fc.constantFrom("", "", "", "e1", "E-02", "e+3", "e-123", "e−1", "e", "e1234"), space),
    unitAndKind,
    space,
  )
  .map(
    ([sign, number, power, [unit, kind], end]) => [[...sign, ...number, ...power, unit, end].join(""), kind] as const,
  );
/** Texts of the letters that quantities are made of, in any order. */
const garbled = fc.string({ unit: fc.constantFrom(..."+-−0159.eE,x×* ratedmsAVHzkuµ°%cyln\n"), maxLength: 12 });

/** The pattern and the reader agree; numbers beyond the range of a double aside, which no pattern can tell. */
function expectAgreement(text: string, kind: QuantityKind): void {
  const problem = quantityProblem(text, kind, "x");
  fc.pre(problem?.code !== "out-of-range");
  expect(matches(text, kind)).toBe(problem === undefined);
}
const matches = (text: string, kind: QuantityKind): boolean => new RegExp(quantityPattern(kind), "u").test(text);

describe("the pattern of a quantity, as an editor holds it against typed text", () => {
  test("accepts exactly the texts that the reader accepts", () => {
    holds(
      fc.property(nearly, ([text, kind]) => {
        expectAgreement(text, kind);
      }),
      2000,
    );
    holds(
      fc.property(garbled, kinds, (text, kind) => {
        expectAgreement(text, kind);
      }),
      2000,
    );
  });

  test("accepts a number as JavaScript prints it, with a unit of its kind and no other", () => {
    const doubles = fc.oneof(spread(-1e6, 1e6), fc.double({ noNaN: true, noDefaultInfinity: true }));
    const number = doubles.map((x) => String(x).replace(/^-/, "−"));
    holds(
      fc.property(number, fc.constantFrom("A", "mA", "kA", "× rated"), (text, unit) => {
        expect(matches(`${text} ${unit}`, "current")).toBe(true);
        expect(matches(`${text} ${unit}`, "time")).toBe(false);
      }),
    );
  });
});
