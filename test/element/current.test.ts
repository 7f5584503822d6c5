import fc from "fast-check";
import { definitionOf, type ElementSetting, operateTimeOf, type RelayInputs } from "tripwright/element";
import { polar, rotate } from "tripwright/phasor";
import { describe, expect, test } from "vitest";
import { usualSettings } from "../support/arbitraries.js";
import { ulps } from "../support/distance.js";
import { holds } from "../support/holds.js";

const rms = fc.double({ min: 0.1, max: 100, noNaN: true });
const degrees = fc.double({ min: -360, max: 360, noNaN: true });
const currents = fc.tuple(fc.tuple(rms, degrees), fc.tuple(rms, degrees), fc.tuple(rms, degrees));
const PHASES = ["ia", "ib", "ic"];
const wired = (three: [number, number][], turned = 0): RelayInputs =>
  Object.fromEntries(
    three.map(([size, angle], i) => [PHASES[i], { ...rotate(polar(size, angle), turned), frequency: 50 }]),
  );
const setting = (change: object) => ({ ...usualSettings[1]!, ...change }) as ElementSetting & { function: "51" };

describe.each(["50", "51"] as const)("the overcurrent function %s", (number) => {
  test("reads the largest of the phase currents, whatever their angles and their order", () => {
    holds(
      fc.property(currents, (three) => {
        const read = (inputs: RelayInputs) => definitionOf(number).read(inputs, setting({ function: number })).quantity;
        const largest = Math.max(...three.map(([size]) => size));
        expect(ulps(read(wired(three)), largest)).toBeLessThanOrEqual(3);
        expect(read(wired([three[1], three[2], three[0]]))).toBe(read(wired(three)));
      }),
    );
  });

  test("is never blocked and reads nothing where nothing is wired", () => {
    const { quantity, blocked, margin } = definitionOf(number).read({}, setting({ function: number, pickup: 4 }));
    expect({ quantity, blocked, margin }).toEqual({ quantity: 0, blocked: false, margin: -4 });
  });

  test("looks at currents alone", () => {
    const volts = { va: { re: 500, im: 0, frequency: 50 } };
    expect(operateTimeOf(setting({ function: number, law: { curve: { form: "definite", time: 0.3 } } }), volts)).toBe(
      Number.POSITIVE_INFINITY,
    );
  });
});

test("turning all currents by one angle moves no operate time", () => {
  holds(
    fc.property(currents, degrees, fc.double({ min: 1.2, max: 20, noNaN: true }), (three, turned, multiple) => {
      const largest = Math.max(...three.map(([size]) => size));
      const relay = setting({ pickup: largest / multiple });
      const [still, moved] = [0, turned].map((by) => operateTimeOf(relay, wired(three, by)));
      // Very inverse: dt/t = −M/(M − 1) · dM/M, at most six times the ten roundings by which the two multiples may
      // differ; and the curve is right to 4 units in the last place each time, which are sixteen roundings.
      expect(Math.abs(moved! / still! - 1)).toBeLessThanOrEqual((6 * 10 + 16) * 2 ** -53);
    }),
  );
});
