import fc from "fast-check";
import { type ParsedPhasor, parsePolar, polar } from "tripwright/phasor";
import { describe, expect, test } from "vitest";
import { problemsOf } from "../support/failure.js";
import { holds } from "../support/holds.js";

const parts = fc.oneof(
  fc.double({ noNaN: true, noDefaultInfinity: true }),
  fc.integer({ min: -1000, max: 1000 }).map((n) => n / 10),
);
const spaces = fc.constantFrom("", " ", "  ", "\t", "\u00a0");
const minuses = fc.constantFrom("-", "−");
const imaginaries = fc.constantFrom("j", "i");
const units = fc.constantFrom("", "V", "kV", "Ω", "p.u.", "%", "V/A");

const withUnit = (p: { re: number; im: number }, unit: string): ParsedPhasor =>
  unit === "" ? { re: p.re + 0, im: p.im + 0 } : { re: p.re + 0, im: p.im + 0, unit };

describe("a phasor that is read", () => {
  test("in polar form is that of its magnitude and angle, however it is written", () => {
    const forms = fc.record({
      gap: spaces,
      minus: minuses,
      degree: fc.constantFrom("°", ""),
      unit: units,
      atEnd: fc.boolean(),
    });
    holds(
      fc.property(fc.double({ min: 0, max: 1e300, noNaN: true }), parts, forms, (size, degrees, form) => {
        const { gap, minus, degree, unit, atEnd } = form;
        const direction = `${degrees < 0 ? `${minus}${gap}` : ""}${Math.abs(degrees)}${gap}${degree}`;
        const [behind, last] = atEnd ? ["", ` ${unit}`] : [`${gap}${unit}`, ""];
        const text = `${gap}${size}${behind}${gap}∠${gap}${direction}${last}${gap}`;
        expect(parsePolar(text)).toEqual(withUnit(polar(size, degrees), unit));
      }),
      200,
    );
  });

  test("in rectangular form is its parts, however they are written", () => {
    const forms = fc.record({ gap: spaces, minus: minuses, j: imaginaries, before: fc.boolean(), unit: units });
    holds(
      fc.property(parts, parts, forms, (re, im, { gap, minus, j, before, unit }) => {
        const signed = (x: number, plus: string) => `${x < 0 ? minus : plus}`;
        const imaginary = before ? `${j}${gap}${Math.abs(im)}` : `${Math.abs(im)}${gap}${j}`;
        const end = unit && ` ${unit}`;
        const both = `${gap}${signed(re, "")}${Math.abs(re)}${gap}${signed(im, "+")}${gap}${imaginary}${end}${gap}`;
        expect(parsePolar(both)).toEqual(withUnit({ re, im }, unit));
        expect(parsePolar(`${signed(im, "")}${gap}${imaginary}${end}`)).toEqual(withUnit({ re: 0, im }, unit));
        expect(parsePolar(`${signed(re, "")}${Math.abs(re)}${end}`)).toEqual(withUnit({ re, im: 0 }, unit));
      }),
      200,
    );
  });

  test("as people write it", () => {
    const volts = polar(66.4, -120);
    expect(parsePolar("66.4∠-120°")).toEqual(volts);
    expect(parsePolar("66.4 V ∠ -120°")).toEqual({ ...volts, unit: "V" });
    expect(parsePolar("66.4 ∠ −120")).toEqual(volts);
    expect(parsePolar("66.4∠-120° V")).toEqual({ ...volts, unit: "V" });
    expect(parsePolar("66.4∠-120deg")).toEqual(volts);
    expect(parsePolar("66.4 V ∠ -120º")).toEqual({ ...volts, unit: "V" });
    expect(parsePolar("+66.4∠+240")).toEqual(polar(66.4, 240));
    expect(parsePolar("3+4j")).toEqual({ re: 3, im: 4 });
    expect(parsePolar("3 - j4")).toEqual({ re: 3, im: -4 });
    expect(parsePolar("-3 − 4i Ω")).toEqual({ re: -3, im: -4, unit: "Ω" });
    expect(parsePolar("1.5e3∠.5E1")).toEqual(polar(1500, 5));
    expect(parsePolar("2e-3 - 1e+2j")).toEqual({ re: 0.002, im: -100 });
    expect(parsePolar("5 in")).toEqual({ re: 5, im: 0, unit: "in" });
    expect(parsePolar("0 V")).toEqual({ re: 0, im: 0, unit: "V" });
    expect(Object.keys(parsePolar("3+4j"))).toEqual(["re", "im"]);
  });

  test("has no −0", () => {
    for (const text of ["-0 - 0j", "-0", "-j0", "0∠-90", "-0∠30", "1∠-180"]) {
      const { re, im } = parsePolar(text);
      expect([Object.is(re, -0), Object.is(im, -0)]).toEqual([false, false]);
    }
  });
});

describe("text that is no phasor", () => {
  /** Where it stops, and what was expected there. */
  const ANGLE_ENDS = "the end of an angle in leading degrees";
  const ROWS: readonly (readonly [string, number, string])[] = [
    ["", 1, "a number"],
    ["   ", 4, "a number"],
    ["V", 1, "a number"],
    ["∠30", 1, "a number"],
    ["-", 2, "a number"],
    ["j", 2, "a number"],
    ["½∠30", 1, "a number"],
    ["66,4∠30", 3, "∠, ± j, the end"],
    ["66.4<30", 5, "∠, ± j, the end"],
    ["66.4@30", 5, "∠, ± j, the end"],
    ["1.2.3∠30", 4, "∠, ± j, the end"],
    ["3 4j", 3, "∠, ± j, the end"],
    ["66.4 V A ∠ 30", 8, "∠, the end"],
    ["3 V + 4j", 5, "∠, the end"],
    ["66.4∠", 6, "a number"],
    ["66.4∠V", 6, "a number"],
    ["66.4 ∠ °", 8, "a number"],
    ["66.4∠30°°", 9, ANGLE_ENDS],
    ["66.4∠30 5°", 9, ANGLE_ENDS],
    ["66.4∠30 + 5", 9, ANGLE_ENDS],
    ["66.4∠30∠20", 8, ANGLE_ENDS],
    ["66.4 V ∠ 30° V", 14, ANGLE_ENDS],
    ["5 ∠ 30 lagging", 8, ANGLE_ENDS],
    ["5 A ∠ 30° lag", 11, ANGLE_ENDS],
    ["5∠30°lead", 6, ANGLE_ENDS],
    ["66.4∠0.5 rad", 10, ANGLE_ENDS],
    ["66.4∠500mrad", 9, ANGLE_ENDS],
    ["66.4∠100 gon", 10, ANGLE_ENDS],
    ["66.4∠degrees", 6, "a number"],
    ["66.4∠30degrees", 8, ANGLE_ENDS],
    ["5 lagging ∠ 30", 3, "∠, ± j, the end"],
    ["66.4∠j30", 7, "an angle in degrees"],
    ["-66.4∠30", 6, "± j, the end"],
    ["3 + 4", 6, "j, a space before any unit,"],
    ["3 + 4 V", 7, "j, a space before any unit,"],
    ["3 + j", 6, "a number"],
    ["3 + + 4j", 5, "a number"],
    ["3 + 4jj", 6, "j, a space before any unit,"],
    ["3 + 4j j", 8, "the end"],
    ["3 + 4j + 5j", 8, "the end"],
    ["4j + 3", 4, "the end"],
    ["1e999", 1, "a smaller number"],
    ["3 + j1e999", 6, "a smaller number"],
    ["NaN", 1, "a number"],
    ["Infinity", 1, "a number"],
    ["0x10", 3, "∠, the end"],
  ];

  test.each(ROWS)("%j stops at character %i, where %s was expected", (text, place, expected) => {
    expect(problemsOf(() => parsePolar(text))).toEqual([
      {
        code: "unreadable",
        path: "text",
        expected: `${expected} at character ${place}`,
        received: JSON.stringify(text),
      },
    ]);
  });

  test("is refused where it is no text at all", () => {
    for (const wrong of [undefined, null, 5, { re: 3, im: 4 }, ["3+4j"], new String("3+4j")])
      expect(problemsOf(() => parsePolar(wrong as string))).toMatchObject([{ path: "text" }]);
    expect(problemsOf(() => parsePolar(null as unknown as string))).toMatchObject([{ code: "wrong-type" }]);
  });

  test("never raises anything but an InputError, and never gives what is not finite", () => {
    const characters = fc.constantFrom(..."0123456789.+-−eEjiV∠° \t,Ω%/");
    holds(
      fc.property(fc.oneof(fc.string({ unit: characters, maxLength: 12 }), fc.string()), (text) => {
        let read: ParsedPhasor;
        try {
          read = parsePolar(text);
        } catch {
          const [problem] = problemsOf(() => parsePolar(text));
          const place = Number(/ at character (\d+)$/.exec(problem?.expected ?? "")?.[1]);
          expect(place >= 1 && place <= text.length + 1).toBe(true);
          return;
        }
        expect(Number.isFinite(read.re) && Number.isFinite(read.im)).toBe(true);
      }),
      1000,
    );
  });
});
