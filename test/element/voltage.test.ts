import fc from "fast-check";
import {
  definitionOf,
  type ElementSetting,
  operateTimeOf,
  type RelayInputs,
  type VoltageSetting,
} from "tripwright/element";
import { polar, rotate } from "tripwright/phasor";
import { describe, expect, test } from "vitest";
import { usualSettings } from "../support/arbitraries.js";
import { ulps } from "../support/distance.js";
import { holds } from "../support/holds.js";

type Vector = readonly [rms: number, degrees: number];
const PHASES = ["va", "vb", "vc"];
const volts = fc.double({ min: 1, max: 150, noNaN: true });
const wired = (three: readonly Vector[], turned = 0): RelayInputs =>
  Object.fromEntries(
    three.map(([size, angle], i) => [PHASES[i], { ...rotate(polar(size, angle), turned), frequency: 50 }]),
  );
/** Three voltages about 120° apart, up to 20° off, so that no line voltage is a small difference. */
const offs = fc.integer({ min: -20, max: 20 });
const vectors = fc.tuple(volts, volts, volts, offs, offs, offs).map(([a, b, c, x, y, z]): Vector[] => [
  [a, x],
  [b, y - 120],
  [c, z + 120],
]);

const setting = (number: "27" | "59", watches: VoltageSetting["watches"], phases: "any" | "all") =>
  usualSettings.find(
    (one) => one.function === number && one.watches === watches && "phases" in one && one.phases === phases,
  ) as VoltageSetting;

/** |a − b| by the law of cosines. */
function between([a, x]: Vector, [b, y]: Vector): number {
  return Math.sqrt(a * a + b * b - 2 * a * b * Math.cos(((x - y) * Math.PI) / 180));
}
const lines = ([a, b, c]: readonly Vector[]): number[] => [between(a!, b!), between(b!, c!), between(c!, a!)];

/** The phase that decides is the one beyond the setting first (any) or last (all). */
const DECIDES = [
  ["59", "any", Math.max],
  ["59", "all", Math.min],
  ["27", "any", Math.min],
  ["27", "all", Math.max],
] as const;

describe.each(DECIDES)("%s of %s phases", (number, phases, deciding) => {
  test("reads the voltage to neutral that decides", () => {
    holds(
      fc.property(vectors, (three) => {
        const relay = setting(number, "line-to-neutral", phases);
        const { quantity } = definitionOf(number).read(wired(three), relay);
        expect(ulps(quantity, deciding(...three.map(([size]) => size)))).toBeLessThanOrEqual(3);
      }),
    );
  });

  test("reads the line voltage that decides from the three to neutral", () => {
    holds(
      fc.property(vectors, (three) => {
        const { quantity } = definitionOf(number).read(wired(three), setting(number, "line-to-line", phases));
        const expected = deciding(...lines(three));
        // At 80° and more apart nothing cancels: twenty roundings in both ways together.
        expect(Math.abs(quantity / expected - 1)).toBeLessThanOrEqual(20 * 2 ** -53);
      }),
    );
  });

  test(`operates just where ${phases === "any" ? "one phase is" : "all three phases are"} beyond the setting`, () => {
    holds(
      fc.property(vectors, volts, (three, pickup) => {
        const relay = { ...setting(number, "line-to-neutral", phases), pickup };
        const beyond = three.map(([size]) => (number === "59" ? size > pickup : size < pickup));
        const operates = phases === "any" ? beyond.includes(true) : !beyond.includes(false);
        // The axes, where a phasor has the very magnitude that it was given.
        const onAxes = wired(three.map(([size], i) => [size, 90 * i] as const));
        expect(Number.isFinite(operateTimeOf(relay, onAxes))).toBe(operates);
      }),
    );
  });
});

test("turning all voltages by one angle moves no operate time", () => {
  holds(
    fc.property(vectors, fc.integer({ min: -360, max: 360 }), (three, turned) => {
      // The deciding line voltage is 9 tenths of this.
      const pickup = Math.max(...lines(three)) / 0.9;
      const relay: ElementSetting = {
        ...setting("27", "line-to-line", "all"),
        pickup,
        law: { curve: "undervoltage-inverse" },
      };
      const [still, moved] = [0, turned].map((by) => operateTimeOf(relay, wired(three, by)));
      // dt/t = x/(1 − x) · dx/x, nine times an error of some ten roundings in each line voltage.
      expect(Math.abs(moved! / still! - 1)).toBeLessThanOrEqual(9 * 20 * 2 ** -53);
    }),
  );
});

describe("dead-voltage blocking", () => {
  const relay = { ...setting("27", "line-to-neutral", "all"), pickup: 50, blockBelow: 10 };
  const time = (three: readonly number[], phases: "any" | "all" = "all") =>
    operateTimeOf({ ...relay, phases }, wired(three.map((size) => [size, 0] as const)));

  test("holds while every watched voltage lies below it, and not on it", () => {
    expect(time([9.99, 9.99, 9.99])).toBe(Number.POSITIVE_INFINITY);
    expect(time([0, 0, 0])).toBe(Number.POSITIVE_INFINITY);
    expect(time([10, 0, 0])).toBe(0.3);
    expect(time([10, 10, 10])).toBe(0.3);
  });

  test("lets a single dead phase operate a function of any phase", () => {
    expect(time([63.5, 63.5, 0], "any")).toBe(0.3);
    expect(time([9, 0, 9], "any")).toBe(Number.POSITIVE_INFINITY);
  });

  test("is off where nothing is said: no voltage is undervoltage", () => {
    const { blockBelow: _, ...unblocked } = relay;
    expect(operateTimeOf(unblocked, {})).toBe(0.3);
  });
});
