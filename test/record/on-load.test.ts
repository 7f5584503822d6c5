import fc from "fast-check";
import { complexPower, polar } from "tripwright/phasor";
import { checkOnLoad, expectOnLoad, type LoadPhasor } from "tripwright/record";
import { describe, expect, test } from "vitest";
import { problemsOf } from "../support/failure.js";
import { holds } from "../support/holds.js";
import { inverse51, read } from "../support/sheets.js";

const sheet = read([inverse51]);
const load = { active: 3e6, reactive: 1e6, voltage: 11_000, ctRatio: 80, vtRatio: 100 };
const tolerance = { magnitude: { percent: 5 }, angle: 5 };
const turned = (list: readonly LoadPhasor[], by: (input: string) => number) =>
  list.map((one) => ({ ...one, angle: one.angle + by(one.input) }));

describe("what a load puts on the relay", () => {
  test("gives the load back: three times V·I*, on the primary side", () => {
    const power = fc.double({ min: -2e7, max: 2e7, noNaN: true });
    holds(
      fc.property(power, power, (active, reactive) => {
        fc.pre(Math.abs(active) + Math.abs(reactive) > 1);
        const [va, , , ia] = expectOnLoad(sheet, { ...load, active, reactive });
        const v = polar(va!.magnitude * 100, va!.angle);
        const i = polar(ia!.magnitude * 80, ia!.angle);
        const { active: p, reactive: q } = complexPower(v, i);
        expect(Math.abs(3 * p - active)).toBeLessThanOrEqual(1e-12 * (Math.abs(active) + Math.abs(reactive)));
        expect(Math.abs(3 * q - reactive)).toBeLessThanOrEqual(1e-12 * (Math.abs(active) + Math.abs(reactive)));
      }),
    );
  });

  test("a lagging load lags its voltage, in either rotation; no load has no angle", () => {
    for (const rotation of ["ABC", "ACB"]) {
      const [va, vb, , ia, ib] = expectOnLoad(read([inverse51], { rotation }), load);
      const lag = (Math.atan2(1, 3) * 180) / Math.PI;
      expect(va!.angle - ia!.angle).toBeCloseTo(lag, 12);
      expect(vb!.angle - ib!.angle).toBeCloseTo(lag, 12);
    }
    expect(expectOnLoad(sheet, { ...load, active: 0, reactive: 0 })[3]).toEqual({
      input: "ia",
      magnitude: 0,
      angle: 0,
    });
  });
});

test("10 MVA at 11 kV are 524.86 A: 6.561 A behind 400/5, and 11 kV behind 11 kV/110 V are 63.51 V to neutral", () => {
  const [va, , , ia] = expectOnLoad(sheet, { ...load, active: 1e7, reactive: 0 });
  expect(va!.magnitude).toBeCloseTo(63.5085, 4);
  expect(ia!.magnitude).toBeCloseTo(6.5608, 4);
});

describe("the ratios", () => {
  const { active, reactive, voltage } = load;
  const both = read([inverse51], { ct: "400/5", vt: "11 kV/110 V" });

  test("are those of the sheet", () => {
    expect(expectOnLoad(both, { active, reactive, voltage })).toEqual(expectOnLoad(both, load));
  });

  test("must not be said differently beside it, and must come from somewhere", () => {
    expect(problemsOf(() => expectOnLoad(both, { ...load, ctRatio: 100 }))).toMatchObject([
      { code: "conflict", path: "load.ctRatio", expected: "80, the ratio on the sheet" },
    ]);
    expect(
      problemsOf(() => expectOnLoad(read([inverse51], { vt: undefined }), { active, reactive, voltage })),
    ).toMatchObject([{ code: "missing", path: "load.vtRatio" }]);
  });
});

describe("the on-load check", () => {
  const expected = expectOnLoad(sheet, load);
  const pattern = (by: (input: string) => number) =>
    checkOnLoad(expected, { measured: turned(expected, by), tolerance });
  const isCurrent = (input: string) => input.startsWith("i");

  test("is within on every input where everything is as it should be, angles counted round the circle", () => {
    const { lines, pattern: none } = pattern((input) => (input === "ic" ? 360 : 1));
    expect(lines.every(({ magnitude, angle }) => magnitude.verdict === "within" && angle?.verdict === "within")).toBe(
      true,
    );
    expect(none).toBeUndefined();
  });

  test.each([
    ["all currents reversed", (input: string) => (isCurrent(input) ? 180 : 0), undefined],
    ["one current reversed", (input: string) => (input === "ib" ? 182 : 0), "ib"],
    ["two phases exchanged", (input: string) => (input === "ib" ? -120 : input === "ic" ? 120 : 0), undefined],
    [undefined, (input: string) => (isCurrent(input) ? 30 : 0), undefined],
    // More is off than one reversal or one exchange would explain.
    [undefined, (input: string) => (input === "ib" ? 180 : input === "ic" ? 30 : 0), undefined],
    [undefined, (input: string) => (input === "ib" ? 120 : input === "ic" ? 30 : 0), undefined],
    [undefined, (input: string) => (input === "ib" || input === "ic" ? 120 : 0), undefined],
  ])("%s", (name, by, input) => {
    const told = pattern(by);
    expect(told.pattern).toBe(name);
    expect(told.input).toBe(input);
    expect(told.lines.some(({ angle }) => angle?.verdict === "outside")).toBe(true);
  });

  test("a wrong ratio shows in the magnitudes alone", () => {
    const measured = expected.map((one) => ({ ...one, magnitude: one.magnitude * (isCurrent(one.input) ? 0.5 : 1) }));
    const { lines, pattern: none } = checkOnLoad(expected, { measured, tolerance });
    expect(lines.map(({ magnitude }) => magnitude.verdict)).toEqual([
      "within",
      "within",
      "within",
      "outside",
      "outside",
      "outside",
    ]);
    expect(none).toBeUndefined();
  });

  test("an input without load has no angle, and makes no pattern", () => {
    const none = { ...load, active: 0, reactive: 0 };
    const idle = expectOnLoad(sheet, none);
    const { lines, pattern: seen } = checkOnLoad(idle, {
      measured: turned(idle, (input) => (isCurrent(input) ? 180 : 0)),
      tolerance: { ...tolerance, magnitude: { absolute: 0.1 } },
    });
    expect(lines.map(({ angle }) => angle?.verdict)).toEqual(["within", "within", "within", ...Array(3)]);
    expect(lines.every(({ magnitude }) => magnitude.verdict === "within")).toBe(true);
    expect(seen).toBeUndefined();
    // One current alone tells nothing of all.
    const alone = expected.map((one) => ({
      ...one,
      magnitude: /i[ac]/.test(one.input) ? 0 : one.magnitude,
      angle: one.input === "ib" ? one.angle + 180 : one.angle,
    }));
    expect(checkOnLoad(expected, { measured: alone, tolerance })).toMatchObject({
      pattern: "one current reversed",
      input: "ib",
    });
    const dead = expected.map((one) => ({ ...one, magnitude: one.input === "ia" ? 0 : one.magnitude }));
    expect(checkOnLoad(expected, { measured: dead, tolerance }).lines[3]).not.toHaveProperty("angle");
  });

  test.each([
    [() => expectOnLoad(sheet, { ...load, voltage: 0 }), "load.voltage"],
    [() => expectOnLoad(sheet, { ...load, active: Number.NaN }), "load.active"],
    [() => expectOnLoad(sheet, { ...load, ct: 1 } as never), "load.ct"],
    [() => checkOnLoad(expected, { measured: expected.slice(1), tolerance }), "measured"],
    [() => checkOnLoad(expected, { measured: [...expected, expected[0]!], tolerance }), "measured"],
    [() => expectOnLoad(sheet, { ...load, active: 1e308, voltage: 1e-300 }), "load"],
    [
      () => checkOnLoad([...expected, { ...expected[0]!, magnitude: -1 }], { measured: expected, tolerance }),
      "expected[6].magnitude",
    ],
    [
      () => checkOnLoad(expected, { measured: [{ ...expected[0]!, angle: Number.NaN }], tolerance }),
      "measured[0].angle",
    ],
    [
      () => checkOnLoad(expected, { measured: expected, tolerance: { ...tolerance, magnitude: { percent: -5 } } }),
      "tolerance.magnitude.percent",
    ],
    [() => checkOnLoad(expected, { measured: expected, tolerance: { ...tolerance, angle: 0 } }), "tolerance.angle"],
  ])("%s is refused by name", (run, path) => {
    expect(problemsOf(run)).toMatchObject([{ path }]);
  });
});
