import fc from "fast-check";
import {
  definitionOf,
  type ElementSetting,
  functionNumbers,
  inputsOf,
  operateTimeOf,
  type Setup,
  standingAt,
} from "tripwright/element";
import { describe, expect, test } from "vitest";
import { setups, usualSettings } from "../support/arbitraries.js";
import { ulpOf, ulps } from "../support/distance.js";
import { holds } from "../support/holds.js";

const described = ({ function: number, watches, ...rest }: ElementSetting): string =>
  [number, watches, ...("phases" in rest ? [rest.phases] : [])].join(" ");

/**
 * With one voltage channel from line to line, the other two line voltages are half of it: a function of any phase that
 * looks for low ones, and one of all phases that looks for high ones, cannot be posed.
 */
const cannotBePosed = (setting: ElementSetting, { voltageChannels }: Setup): boolean =>
  // One channel feeds both sides of a breaker alike.
  (voltageChannels === 1 && setting.function === "25") ||
  (voltageChannels === 1 &&
    setting.watches === "line-to-line" &&
    ((setting.function === "27" && setting.phases === "any") ||
      (setting.function === "59" && setting.phases === "all")));

const benches = usualSettings.flatMap((setting) => setups.map((setup) => ({ setting, setup })));
const posed = ({ setting, setup }: (typeof benches)[number]) =>
  definitionOf(setting.function).pose(setting as never, setup);
/** Two sides stand no further apart than in opposition. */
const levelsOf = ({ function: number }: ElementSetting) =>
  fc.double({ min: 1e-3, max: number === "25" ? 180 : 500, noNaN: true });

const sized = fc.double({ min: -90, max: 90, noNaN: true });

describe("every function", () => {
  test("has settings here for each function number", () => {
    expect([...new Set(usualSettings.map((setting) => setting.function))].sort()).toEqual([...functionNumbers].sort());
    for (const number of functionNumbers) expect(definitionOf(number).function).toBe(number);
  });

  test.each(
    usualSettings
      .filter(({ function: number }) => definitionOf(number).relates !== true)
      .map((setting) => [described(setting), setting] as const),
  )("%s, which does not relate voltages to currents, is deaf to one of the two, as its unit says", (_, setting) => {
    const { read, unit } = definitionOf(setting.function);
    const heard = unit === "A" ? "i" : "v";
    const names = ["ia", "ib", "ic", "ig", "ia2", "ib2", "ic2", "va", "vb", "vc", "vn", "va2", "vb2", "vc2"];
    const state = fc.record({ re: sized, im: sized, frequency: fc.constantFrom(49, 50, 60) });
    const inputs = fc.record(Object.fromEntries(names.map((name) => [name, state])));
    holds(
      fc.property(inputs, (all) => {
        const own = Object.fromEntries(Object.entries(all).filter(([name]) => name.startsWith(heard)));
        expect(read(all, setting as never)).toEqual(read(own, setting as never));
      }),
      30,
    );
  });

  test.each(usualSettings.map((setting) => [described(setting), setting] as const))(
    "%s reads level x from the inputs that its pose makes at level x, on every bench that can",
    (_, setting) => {
      const able = setups.filter((setup) => !cannotBePosed(setting, setup));
      holds(
        fc.property(fc.constantFrom(...able), levelsOf(setting), (setup, x) => {
          const pose = posed({ setting, setup });
          if (pose.kind === "none") throw new Error(pose.reason);
          const states = standingAt(pose, x);
          const { quantity } = definitionOf(setting.function).read(inputsOf(states, pose.wiring), setting as never);
          // An angle is as exact as a half turn is: a small one is the difference of two that are not.
          if (setting.function === "25") expect(Math.abs(quantity - x)).toBeLessThanOrEqual(4 * 2 ** -53 * 180);
          // Phasors that were turned to an angle and are turned back again are rounded three times as often.
          else {
            const places = definitionOf(setting.function).relates ? 12 : 4;
            // A voltage between two phases that stand at 30 V and more is rounded as they are, and 1 A flows out and back.
            const roundings = pose.statesAt === undefined ? 0 : 4 * ulpOf(64);
            expect(Math.abs(quantity - x)).toBeLessThanOrEqual(places * ulpOf(x) + roundings);
          }
        }),
      );
    },
  );

  test("at level 0 its pose makes nothing at all", () => {
    for (const bench of benches.filter(({ setting, setup }) => !cannotBePosed(setting, setup))) {
      const pose = posed(bench);
      if (pose.kind === "none") throw new Error(pose.reason);
      const { quantity } = definitionOf(bench.setting.function).read(
        inputsOf(pose.base, pose.wiring),
        bench.setting as never,
      );
      expect(quantity).toBe(0);
    }
  });

  test("that one channel cannot pose answers none, and says that it takes three", () => {
    const none = benches.filter((bench) => posed(bench).kind === "none");
    expect(none).toEqual(benches.filter(({ setting, setup }) => cannotBePosed(setting, setup)));
    for (const bench of none) expect(posed(bench)).toMatchObject({ reason: expect.stringContaining("three") });
  });

  test("of frequency, direction, power and distance answers none where no rated voltage is given", () => {
    const { ratedVoltage: _, ...setup } = setups[0]!;
    const kinds = usualSettings.map((setting) => [setting.watches, posed({ setting, setup }).kind]);
    expect(kinds.filter(([watches]) => watches === "frequency")).toEqual(Array(2).fill(["frequency", "none"]));
    expect(kinds.filter(([watches]) => watches === "frequency-rate")).toEqual(
      Array(3).fill(["frequency-rate", "none"]),
    );
    const directed = usualSettings.filter((setting) => ["32", "67", "67N", "21"].includes(setting.function));
    expect(directed.map((setting) => posed({ setting, setup }).kind)).toEqual(Array(14).fill("none"));
    expect(kinds.filter(([watches]) => watches === "phase")).toEqual([
      ...Array(5).fill(["phase", "found"]),
      ...Array(3).fill(["phase", "none"]),
    ]);
  });
});

describe("the margin", () => {
  test("of every function is positive just where it operates, at any level that a bench can make", () => {
    const able = benches.filter(({ setting, setup }) => !cannotBePosed(setting, setup));
    holds(
      fc.property(
        fc.constantFrom(...able),
        fc.double({ min: 0.1, max: 3, noNaN: true }),
        ({ setting, setup }, share) => {
          fc.pre(Math.abs(share - 1) > 1e-9);
          const pose = posed({ setting, setup });
          if (pose.kind === "none") throw new Error(pose.reason);
          const states = standingAt(pose, share * setting.pickup);
          const inputs = inputsOf(states, pose.wiring);
          const { margin, blocked } = definitionOf(setting.function).read(inputs, setting as never);
          expect(margin > 0 && !blocked).toBe(Number.isFinite(operateTimeOf(setting, inputs)));
          expect(margin > 0).toBe(definitionOf(setting.function).side === "over" ? share > 1 : share < 1);
        },
      ),
      500,
    );
  });

  const steps = fc.integer({ min: -3, max: 3 });
  /** Those of one plain quantity; how the others read is in their poses. */
  const plain = ["50", "51", "27", "59", "37", "81O", "81U"];
  const settings = fc.constantFrom(
    ...usualSettings
      .filter((one) => plain.includes(one.function) && one.watches !== "line-to-line")
      .map((one) => ({ ...one, blockBelow: 0 })),
  );
  /** All inputs at one level of the watched quantity: three phases of a current or voltage, or a frequency. */
  const inputsAt = ({ watches }: ElementSetting, x: number) => {
    const [re, frequency] = watches === "frequency" ? [60, x] : [x, 50];
    const seen = { re, im: 0, frequency };
    return watches === "phase" ? { ia: seen, ib: seen, ic: seen } : { va: seen, vb: seen, vc: seen };
  };
  const agrees = (setting: ElementSetting, x: number): void => {
    const inputs = inputsAt(setting, x);
    const { margin, quantity, multiple } = definitionOf(setting.function).read(inputs, setting as never);
    expect(quantity).toBe(x);
    expect(ulps(multiple, x / setting.pickup)).toBe(0);
    expect(margin > 0).toBe(Number.isFinite(operateTimeOf(setting, inputs)));
  };

  test("is positive just where the function operates, down to the last place about the setting", () => {
    holds(
      fc.property(settings, fc.double({ min: 0.5, max: 200, noNaN: true }), steps, (setting, pickup, n) => {
        agrees({ ...setting, pickup } as ElementSetting, pickup * (1 + n * 2 ** -52));
      }),
      500,
    );
  });

  test("is positive just where the function operates at any level", () => {
    holds(
      fc.property(settings, fc.double({ min: 40, max: 200, noNaN: true }), (setting, x) => void agrees(setting, x)),
      500,
    );
  });

  const hundredths = fc.integer({ min: 1, max: 50 });
  /** The same setting with a start that many percent beyond the pickup. */
  const startingAt = (setting: ElementSetting, pickup: number, percent: number): ElementSetting =>
    ({ ...setting, pickup, law: { ...setting.law, startRatio: percent / 100 } }) as ElementSetting;
  const percentOf = (setting: ElementSetting, n: number): number =>
    definitionOf(setting.function).side === "under" ? 100 - n : 100 + n;

  test("is counted from startRatio · pickup, to the roundings of four operations", () => {
    const size = fc.double({ min: 40, max: 200, noNaN: true });
    holds(
      fc.property(settings, hundredths, size, size, (setting, n, pickup, x) => {
        const relay = startingAt(setting, pickup, percentOf(setting, n));
        const { margin } = definitionOf(setting.function).read(inputsAt(setting, x), relay as never);
        const start = (percentOf(setting, n) / 100) * pickup;
        const expected = definitionOf(setting.function).side === "under" ? start - x : x - start;
        expect(Math.abs(margin - expected)).toBeLessThanOrEqual(4 * 2 ** -53 * (x + start));
      }),
    );
  });

  test("is positive just where a function with a start ratio operates, on typed values about the start too", () => {
    holds(
      fc.property(
        settings,
        hundredths,
        fc.integer({ min: 5, max: 1000 }),
        fc.constantFrom(0, 0, 1, -1),
        (s, n, p, off) => {
          const percent = percentOf(s, n);
          // The start itself as a person computes it, and a thousandth beside it.
          agrees(startingAt(s, p / 10, percent), (p * percent + off) / 1000);
        },
      ),
      500,
    );
  });
});
