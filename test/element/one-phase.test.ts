/** What a single-phase source looks like to functions of three phases: "One-phase sources", common practice, and Fortescue. */
import {
  definitionOf,
  dropoutLevel,
  type ElementSetting,
  inputsOf,
  operateTimeOf,
  type RelayInputs,
  standingAt,
  startLevel,
} from "tripwright/element";
import { polar } from "tripwright/phasor";
import { describe, expect, test } from "vitest";
import { usualSettings } from "../support/arbitraries.js";
import { problemsOf } from "../support/failure.js";

const at = (size: number, degrees = 0) => ({ ...polar(size, degrees), frequency: 50 });
const setting = (name: string, watches: string, change: object = {}) =>
  ({ ...usualSettings.find((one) => one.function === name && one.watches === watches)!, ...change }) as ElementSetting;
const quantity = (of: ElementSetting, inputs: RelayInputs) =>
  definitionOf(of.function).read(inputs, of as never).quantity;

describe("one current on one phase: I1 = I2 = I0 = I/3, residual I", () => {
  const inputs = { ia: at(9) };
  test.each([
    ["46", "I2", 3],
    ["46", "3I2", 9],
    ["51N", "residual", 9],
    ["51", "phase", 9],
    ["51G", "ground", 0],
    // √(I1² + 3·I2²) = √(9 + 27) A
    ["49", "I1-and-I2", 6],
  ])("%s %s", (name, watches, expected) => {
    expect(quantity(setting(name, watches), inputs)).toBeCloseTo(expected, 12);
  });
});

describe("out on one phase and back on another: I1 = I2 = I/√3, no residual", () => {
  const inputs = { ia: at(9), ib: at(9, 180) };
  test.each([
    ["46", "I2", 9 / Math.sqrt(3)],
    ["51N", "residual", 0],
    ["49", "I1-and-I2", 2 * (9 / Math.sqrt(3))],
  ])("%s %s", (name, watches, expected) => {
    expect(quantity(setting(name, watches), inputs)).toBeCloseTo(expected, 12);
  });
});

describe("voltages", () => {
  test.each([
    ["one phase, the others shorted to neutral: V/3", { va: at(63) }, "47", "V2", 21],
    [
      "line to line, neutral at the midpoint: V/(2√3)",
      { va: at(30), vb: at(30, 180) },
      "47",
      "V2",
      60 / (2 * Math.sqrt(3)),
    ],
    ["three inputs in parallel: V0 = V", { va: at(20), vb: at(20), vc: at(20) }, "59N", "V0", 20],
    ["and 3·V0 = 3·V", { va: at(20), vb: at(20), vc: at(20) }, "59N", "3V0", 60],
    ["and no V2", { va: at(20), vb: at(20), vc: at(20) }, "47", "V2", 0],
    ["a reversed rotation is all V2", { va: at(60), vb: at(60, 120), vc: at(60, -120) }, "47", "V2", 60],
    ["an open delta has an input of its own", { vn: at(33) }, "59N", "open-delta", 33],
  ])("%s", (_what, inputs, name, watches, expected) => {
    expect(quantity(setting(name, watches), inputs as unknown as RelayInputs)).toBeCloseTo(expected, 12);
  });
});

describe("the image of a motor, √(I1² + q·I2²)", () => {
  const edgesOf = (q: number, currentChannels: 1 | 3, rotation: "ABC" | "ACB" = "ABC") => {
    const relay = setting("49", "I1-and-I2", { pickup: 6, negativeSequenceFactor: q, rotation }) as never;
    const setup = { frequency: 50, rotation, currentChannels, voltageChannels: 3 } as const;
    return { relay, edges: definitionOf("49").edges?.(relay, setup) ?? [] };
  };

  test.each(["ABC", "ACB"] as const)(
    "starts at 3 A of negative sequence where q is 4 and the setting 6 A, in %s",
    (rotation) => {
      const { relay, edges } = edgesOf(4, 3, rotation);
      expect(edges.map(({ name, at, side, heldTo }) => [name, at, side, heldTo])).toEqual([
        ["negative-sequence", 3, "over", "pickup"],
      ]);
      const { pose } = edges[0]!;
      if (pose.kind === "none") throw new Error(pose.reason);
      const read = (level: number, of: object = relay) =>
        definitionOf("49").read(inputsOf(standingAt(pose, level), pose.wiring), of as never).quantity;
      expect(read(3)).toBeCloseTo(6, 12);
      expect(read(3, { ...(relay as object), negativeSequenceFactor: 9 })).toBeCloseTo(9, 12);
    },
  );

  test("shows no such place on one channel, where no negative sequence heats, and where the phases are watched", () => {
    expect(edgesOf(4, 1).edges).toEqual([]);
    expect(edgesOf(0, 3).edges).toEqual([]);
    const setup = { frequency: 50, rotation: "ABC", currentChannels: 3, voltageChannels: 3 } as const;
    expect(definitionOf("49").edges?.(setting("49", "phase") as never, setup)).toEqual([]);
  });
});

describe("volts per hertz", () => {
  test.each([
    [110, 50, 1],
    [110, 40, 1.25],
    [121, 55, 1],
    [55, 25, 1],
  ])("%d V at %d Hz are %d per unit of 110 V at 50 Hz", (volts, frequency, expected) => {
    const v = (degrees: number) => ({ ...polar(volts / Math.sqrt(3), degrees), frequency });
    expect(quantity(setting("24", "line-to-line"), { va: v(0), vb: v(-120), vc: v(120) })).toBeCloseTo(expected, 12);
  });

  test("k/(M − 1)² at 1.21 per unit against 1.1: 1/0.1² s", () => {
    const v = { ...polar((1.21 * 110) / Math.sqrt(3), 0), frequency: 50 };
    const relay = setting("24", "line-to-neutral");
    expect(operateTimeOf(relay, { va: v, vb: v, vc: v })).toBeCloseTo(100, 9);
  });
});

describe("rate of change of frequency", () => {
  const moving = (rate: number) => ({ va: { ...at(60), frequencyRate: rate } });
  const relay = (direction: string) =>
    ({
      ...setting("81R", "frequency-rate"),
      direction,
      pickup: 0.5,
      law: { curve: { form: "definite", time: 0.3 } },
    }) as ElementSetting;
  test.each([
    ["rising", 0.6, 0.3],
    ["rising", -0.6, Number.POSITIVE_INFINITY],
    ["falling", -0.6, 0.3],
    ["falling", 0.6, Number.POSITIVE_INFINITY],
    ["both", -0.6, 0.3],
    ["both", 0.6, 0.3],
    ["both", 0.4, Number.POSITIVE_INFINITY],
  ])("%s at %d Hz/s", (direction, rate, expected) => {
    expect(operateTimeOf(relay(direction), moving(rate))).toBe(expected);
  });

  test("is blocked while every voltage lies below its limit, and not on it", () => {
    const blockable = (blockBelow: number) => ({ ...relay("both"), blockBelow }) as ElementSetting;
    const [volts] = Object.values(moving(3));
    const size = Math.hypot(volts!.re, volts!.im);
    expect(operateTimeOf(blockable(size), moving(3))).toBe(0.3);
    expect(operateTimeOf(blockable(1.001 * size), moving(3))).toBe(Number.POSITIVE_INFINITY);
  });

  test("without voltage there is no frequency", () => {
    expect(operateTimeOf(relay("both"), { va: { re: 0, im: 0, frequency: 50, frequencyRate: 3 } })).toBe(
      Number.POSITIVE_INFINITY,
    );
  });
});

describe("undercurrent", () => {
  const all = (size: number) => ({ ia: at(size), ib: at(size), ic: at(size) });
  const relay = (change: object) => setting("37", "phase", { phases: "any", pickup: 1, ...change });

  test("of any phase answers to the lowest, of all phases to the highest", () => {
    const inputs = { ia: at(0.5), ib: at(2), ic: at(2) };
    expect(operateTimeOf(relay({}), inputs)).toBe(0.3);
    expect(operateTimeOf(relay({ phases: "all" }), inputs)).toBe(Number.POSITIVE_INFINITY);
  });

  test("is blocked where the feeder is dead", () => {
    expect(operateTimeOf(relay({ blockBelow: 0.2 }), all(0.1))).toBe(Number.POSITIVE_INFINITY);
    expect(operateTimeOf(relay({ blockBelow: 0.2 }), all(0.3))).toBe(0.3);
  });

  test("and not where one phase is: the feeder is alive, and one phase below the setting is what it looks for", () => {
    const inputs = { ia: at(0.1), ib: at(0.3), ic: at(0.3) };
    expect(operateTimeOf(relay({ blockBelow: 0.2 }), inputs)).toBe(0.3);
  });

  test("rests on a load above its setting and above what arms it: 1.5 × 1 A, rated 5 A, 1.1 × 10 A", () => {
    const { healthyLevel } = definitionOf("37");
    const setup = { frequency: 50, rotation: "ABC", currentChannels: 3, voltageChannels: 3 } as const;
    expect(healthyLevel(relay({}) as never, setup)).toBe(1.5);
    expect(healthyLevel(relay({}) as never, { ...setup, ratedCurrent: 5 })).toBe(5);
    expect(healthyLevel(relay({ armAbove: 10 }) as never, { ...setup, ratedCurrent: 5 })).toBeCloseTo(11, 12);
  });

  test("is armed by a current on all phases above its level", () => {
    const arms = (inputs: RelayInputs) => definitionOf("37").read(inputs, relay({ armAbove: 2 }) as never).arms;
    expect([arms(all(2.1)), arms(all(1.9)), arms({ ia: at(9) })]).toEqual([true, false, false]);
  });
});

test("undervoltage is armed by voltages on all phases above its level", () => {
  const relay = setting("27", "line-to-neutral", { armAbove: 50 });
  const arms = (inputs: RelayInputs) => definitionOf("27").read(inputs, relay as never).arms;
  expect(arms({ va: at(51), vb: at(51), vc: at(51) })).toBe(true);
  expect(arms({ va: at(60), vb: at(60), vc: at(49) })).toBe(false);
});

test("rated voltage on a system of 50 Hz is 1.2 times the flux of 60 Hz", () => {
  const relay = setting("24", "line-to-line", { ratedFrequency: 60 });
  const setup = { frequency: 50, rotation: "ABC", currentChannels: 3, voltageChannels: 3, ratedVoltage: 110 } as const;
  expect(definitionOf("24").healthyLevel(relay as never, setup)).toBeCloseTo(1.2, 12);
});

describe("where functions let go", () => {
  test.each([
    ["a ratio", "50", "phase", { pickup: 40, dropout: { ratio: 0.95 } }, 38],
    ["a ratio of an under function", "27", "line-to-line", { pickup: 88, dropout: { ratio: 1.05 } }, 92.4],
    ["a difference above an under function", "81U", "frequency", { pickup: 49, dropout: { difference: 0.02 } }, 49.02],
    ["a difference below an over function", "81O", "frequency", { pickup: 51, dropout: { difference: 0.02 } }, 50.98],
    [
      "counted from where it starts",
      "51",
      "phase",
      { pickup: 4, law: { curve: "iec-inverse", startRatio: 1.1 }, dropout: { ratio: 0.5 } },
      2.2,
    ],
  ])("%s", (_what, name, watches, change, expected) => {
    expect(dropoutLevel(setting(name, watches, change))).toBe(expected);
  });

  test("without a word, on the quiet side of the start", () => {
    for (const one of usualSettings) {
      const over = definitionOf(one.function).side === "over";
      expect(dropoutLevel(one) < startLevel(one), one.function).toBe(over);
    }
  });

  test.each([
    ["50", "phase", { dropout: { ratio: 1.01 } }, "dropout.ratio"],
    ["27", "line-to-line", { dropout: { ratio: 0.99 } }, "dropout.ratio"],
    ["81U", "frequency", { dropout: { difference: -1 } }, "dropout.difference"],
    ["50", "phase", { dropout: { ratio: 0.9, difference: 1 } }, "dropout"],
    ["50", "phase", { dropout: { share: 0.9 } }, "dropout.share"],
    ["81O", "frequency", { pickup: 51, dropout: { difference: 51 } }, "dropout.difference"],
    // What is usual, 0.05 Hz back, would be below 0.
    ["81O", "frequency", { pickup: 0.04 }, "pickup"],
  ])("%s %s with %j is refused by name", (name, watches, change, path) => {
    expect(problemsOf(() => dropoutLevel(setting(name, watches, change)))).toMatchObject([{ path }]);
  });
});

test.each([
  ["46", "I2", { rotation: "XYZ" }, "rotation"],
  ["46", "I2", { watches: "I0" }, "watches"],
  ["24", "line-to-line", { ratedVoltage: 0 }, "ratedVoltage"],
  ["24", "line-to-line", { ratedFrequency: undefined }, "ratedFrequency"],
  ["49", "phase", { law: { curve: "iec-inverse" } }, "law.curve"],
  ["49", "I1-and-I2", { negativeSequenceFactor: -1 }, "negativeSequenceFactor"],
  ["81R", "frequency-rate", { direction: "up" }, "direction"],
  ["37", "phase", { phases: "two" }, "phases"],
  ["37", "phase", { armAbove: Number.NaN }, "armAbove"],
  ["50", "phase", { measuringDelay: -1 }, "measuringDelay"],
  ["50", "phase", { law: { curve: "iec-inverse" } }, "law.curve"],
  // The setting says itself where the function lets go.
  ["51", "phase", { law: { curve: "iec-inverse", dropoutRatio: 0.5 } }, "law.dropoutRatio"],
])("%s %s with %j is refused by name", (name, watches, change, path) => {
  expect(problemsOf(() => operateTimeOf(setting(name, watches, change), {}))).toMatchObject([{ path }]);
});
