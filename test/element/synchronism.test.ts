import { definitionOf, inputsOf, operateTimeOf, type SynchronismSetting } from "tripwright/element";
import { polar } from "tripwright/phasor";
import { describe, expect, test } from "vitest";
import { setups } from "../support/arbitraries.js";
import { problemsOf } from "../support/failure.js";

const setting: SynchronismSetting = {
  id: "25",
  function: "25",
  watches: "a",
  pickup: 20,
  law: { curve: { form: "definite", time: 0.5, side: "under" } },
  measuringDelay: 0.1,
  contact: "permit",
  accuracy: { pickup: { absolute: 2 }, time: { percent: 2 } },
};
const definition = definitionOf("25");

/** Phase a at 63.5 V and 0°, the incoming side as given. */
const seen = (incoming: { rms?: number; angle?: number; frequency?: number }, running = 63.5) => ({
  va: { ...polar(running, 0), frequency: 50 },
  vs: { ...polar(incoming.rms ?? 63.5, incoming.angle ?? 0), frequency: incoming.frequency ?? 50 },
});
const permits = (inputs: ReturnType<typeof seen> | object, change: Partial<SynchronismSetting> = {}) => {
  const { margin, blocked } = definition.read(inputs as ReturnType<typeof seen>, { ...setting, ...change });
  return margin > 0 && !blocked;
};

describe("a synchronism check permits", () => {
  test("while the angle is within its setting, leading or lagging", () => {
    expect([0, 19, -19, 21, -21, 180].map((angle) => permits(seen({ angle })))).toEqual([
      true,
      true,
      true,
      false,
      false,
      false,
    ]);
  });

  test("while the sizes differ by no more than is allowed, whichever is the larger", () => {
    const limited = { voltageDifference: 5 };
    expect([68, 59, 69, 58].map((rms) => permits(seen({ rms }), limited))).toEqual([true, true, false, false]);
    expect(permits(seen({ rms: 90 }))).toBe(true);
  });

  test("while the frequencies differ by no more than is allowed, whichever is the faster", () => {
    const limited = { slip: 0.1 };
    expect([50.09, 49.91, 50.11, 49.89].map((frequency) => permits(seen({ frequency }), limited))).toEqual([
      true,
      true,
      false,
      false,
    ]);
    expect(permits(seen({ frequency: 52 }))).toBe(true);
  });

  test("between two phases by their difference: Vab leads Va by 30°", () => {
    const inputs = (angle: number) => ({
      va: { ...polar(63.5, 0), frequency: 50 },
      vb: { ...polar(63.5, -120), frequency: 50 },
      vs: { ...polar(110, angle), frequency: 50 },
    });
    expect([30, 49, 11, 51, 9].map((angle) => permits(inputs(angle), { watches: "ab" }))).toEqual([
      true,
      true,
      true,
      false,
      false,
    ]);
  });

  test("between two phases of which one is not fed, at the frequency of the other", () => {
    const inputs = { vb: { ...polar(110, 180), frequency: 50 }, vs: { ...polar(110, 0), frequency: 50 } };
    expect(permits(inputs, { watches: "ab", slip: 0.1 })).toBe(true);
  });

  test("earlier where it is told the closing time: at 0.1 Hz and 0.5 s the breaker closes 18° later", () => {
    const ahead = { closingTime: 0.5 };
    const turning = (angle: number, frequency: number) => permits(seen({ angle, frequency }), ahead);
    expect([-37, -39, 1, 3].map((angle) => turning(angle, 50.1))).toEqual([true, false, true, false]);
    expect([37, 39, -1, -3].map((angle) => turning(angle, 49.9))).toEqual([true, false, true, false]);
  });

  test("with both sides live only: whatever is set, two dead sides have no angle", () => {
    expect(permits(seen({ rms: 0 }, 0))).toBe(false);
    expect(permits(seen({ rms: 40 }, 40), { liveAbove: 50 })).toBe(false);
    expect(permits(seen({ rms: 51 }, 51), { liveAbove: 50 })).toBe(true);
    expect(permits(seen({ rms: 51 }, 49), { liveAbove: 50 })).toBe(false);
    expect(permits(seen({ rms: 49 }, 51), { liveAbove: 50 })).toBe(false);
  });

  test("onto the side that may be dead, and onto no other", () => {
    const thresholds = { liveAbove: 50, deadBelow: 12 };
    const dead = { running: seen({ angle: 180 }, 11), incoming: seen({ angle: 180, rms: 11 }) };
    const both = seen({ angle: 180, rms: 11 }, 11);
    const outcome = (deadClosing: SynchronismSetting["deadClosing"]) =>
      [dead.running, dead.incoming, both].map((inputs) =>
        permits(inputs, { ...thresholds, ...(deadClosing && { deadClosing }) }),
      );
    expect(outcome(undefined)).toEqual([false, false, false]);
    expect(outcome("running")).toEqual([true, false, false]);
    expect(outcome("incoming")).toEqual([false, true, false]);
    expect(outcome("either")).toEqual([true, true, false]);
    expect(permits(seen({ angle: 180 }, 13), { ...thresholds, deadClosing: "either" })).toBe(false);
  });

  test("after its timer, and never outside", () => {
    expect(operateTimeOf(setting, seen({ angle: 10 }))).toBe(0.5);
    expect(operateTimeOf(setting, seen({ angle: 30 }))).toBe(Number.POSITIVE_INFINITY);
  });
});

describe("on a bench", () => {
  const three = setups.find(({ voltageChannels }) => voltageChannels === 3)!;
  const one = setups.find(({ voltageChannels }) => voltageChannels === 1)!;

  test("one channel feeds the running side and another one the incoming", () => {
    const pose = definition.pose({ ...setting, watches: "bc" }, three);
    expect(pose).toMatchObject({
      kind: "found",
      wiring: { vb: { feeds: { vb: 0.5, vc: -0.5 } }, vc: { feeds: { vs: 1 } } },
      base: { vb: { rms: 110 }, vc: { rms: 110 } },
      lever: { vc: { angle: 1 } },
    });
  });

  const everything = {
    ...setting,
    voltageDifference: 5,
    slip: 0.1,
    liveAbove: 50,
    deadBelow: 12,
    deadClosing: "running",
    closingTime: 0.08,
  } as const;
  const names = (setup: typeof three, kind: string) =>
    definition.edges!(everything, setup).flatMap(({ name, pose }) => (pose.kind === kind ? [name] : []));

  test("every limit is an edge of its own; one channel shows the live threshold alone", () => {
    expect(names(three, "found")).toEqual(["lagging", "higher", "lower", "faster", "slower", "live", "dead-running"]);
    expect(names(three, "none")).toEqual(["advance"]);
    expect(names(one, "found")).toEqual(["live"]);
  });

  test("a dead side stands still where closing onto it is not allowed, with one channel too", () => {
    for (const setup of [three, one]) {
      const [still, ...others] = definition.stills!(everything, setup);
      expect(others).toEqual([]);
      expect(still).toMatchObject({ name: "dead-incoming", level: 0, pose: { kind: "found" } });
      const pose = still!.pose;
      const inputs = pose.kind === "found" ? inputsOf(pose.base, pose.wiring) : {};
      expect(inputs["vs"]).toBeUndefined();
      expect(inputs["va"]?.re).toBeCloseTo(110 / Math.sqrt(3), 10);
    }
  });

  test("no frequency goes below 0", () => {
    const wide = {
      ...everything,
      slip: 45,
      law: { curve: { form: "definite", time: 0, side: "under" } },
      measuringDelay: 0,
      accuracy: { pickup: { absolute: 2 }, time: { absolute: 0.0001 }, frequency: { absolute: 1 } },
    } as const;
    const reasons = definition.edges!(wide, three).flatMap(({ name, pose }) =>
      pose.kind === "none" ? [[name, pose.reason]] : [],
    );
    expect(reasons[0]).toEqual(["slower", "no frequency lies so far below 50 Hz"]);
  });
});

test.each([
  [{ pickup: 91 }, "pickup"],
  [{ accuracy: { pickup: { absolute: 20 }, time: { percent: 5 } } }, "accuracy.pickup"],
  [{ accuracy: undefined }, "accuracy"],
  [{ accuracy: { time: { percent: 5 } } }, "accuracy.pickup"],
  [{ deadClosing: "running", liveAbove: 50 }, "deadBelow"],
  [{ deadClosing: "running", deadBelow: 50 }, "liveAbove"],
  [{ deadClosing: "running", deadBelow: 50, liveAbove: 50 }, "deadBelow"],
  [{ deadClosing: "both" }, "deadClosing"],
  [{ slip: 0 }, "slip"],
  [{ voltageDifference: -1 }, "voltageDifference"],
  [{ liveAbove: Number.NaN }, "liveAbove"],
  [{ deadBelow: 0 }, "deadBelow"],
  [{ closingTime: -0.1 }, "closingTime"],
  [{ watches: "phase" }, "watches"],
])("a setting %j is refused by its field", (change, path) => {
  expect(problemsOf(() => operateTimeOf({ ...setting, ...change } as never, seen({})))).toMatchObject([{ path }]);
});
