import fc from "fast-check";
import {
  distanceTo,
  earthFactorOfRatios,
  faultAt,
  type Loop,
  loopImpedance,
  outlineOf,
} from "tripwright/characteristic";
import {
  checkedDefinition,
  type DistanceSetting,
  type DistanceZone,
  definitionOf,
  distanceZone,
  type InputState,
  inputsOf,
  operateTimeOf,
  type RelayInputs,
  standingAt,
} from "tripwright/element";
import { type Phases, type Phasor, polar, rotate, threePhase } from "tripwright/phasor";
import { describe, expect, test } from "vitest";
import { setups } from "../support/arbitraries.js";
import { problemsOf } from "../support/failure.js";
import { holds } from "../support/holds.js";

const number = (min: number, max: number) => fc.double({ min, max, noNaN: true });
const k0: Phasor = polar(0.67, -7.5);
const mho: DistanceZone = { form: "mho", lineAngle: 75 };
const offset: DistanceZone = { ...mho, reverseRatio: 0.25 };
const box: DistanceZone = {
  form: "quadrilateral",
  lineAngle: 75,
  resistanceRatio: 0.8,
  tilt: -3,
  forward: { from: -15, to: 115 },
};
const setting = (change: object = {}): DistanceSetting =>
  ({
    id: "21-1",
    function: "21",
    watches: "phase-and-earth-loops",
    pickup: 4,
    zone: mho,
    operates: "forward",
    earth: { factor: k0 },
    law: { curve: { form: "definite", time: 0.3, side: "under" } },
    measuringDelay: 0.03,
    contact: "trip",
    accuracy: { pickup: { percent: 5 }, time: { percent: 5 } },
    ...change,
  }) as DistanceSetting;
const phaseLoops = (change: object = {}): DistanceSetting => {
  const { earth: _, ...rest } = setting({ watches: "phase-loops" });
  return { ...rest, ...change } as DistanceSetting;
};
const seen = (phasor: Phasor): InputState => ({ ...phasor, frequency: 50 });
const inputsFrom = ({ v, i }: { readonly v: Phases; readonly i: Phases }): RelayInputs => ({
  va: seen(v.a),
  vb: seen(v.b),
  vc: seen(v.c),
  ia: seen(i.a),
  ib: seen(i.b),
  ic: seen(i.c),
});
const faulted = (loop: Loop | "abc", impedance: Phasor, rotation: "ABC" | "ACB" = "ABC", current = 2): RelayInputs =>
  inputsFrom(faultAt({ loop, impedance, k0, healthyVoltage: 63.5, rotation, held: { current } }));
const { read } = definitionOf("21");
const operates = (given: DistanceSetting, inputs: RelayInputs): boolean =>
  Number.isFinite(operateTimeOf(given, inputs));

const loops = fc.constantFrom<Loop | "abc">("a", "b", "c", "ab", "bc", "ca", "abc");
const zones = fc.constantFrom<DistanceZone>(mho, offset, box, { ...box, forward: { from: -80, to: 170 } });

describe("a distance function", () => {
  test("operates just where the impedance of the faulted loop lies in its zone, for every loop, both ways and rotations", () => {
    holds(
      fc.property(
        fc.record({
          loop: loops,
          zone: zones,
          operates: fc.constantFrom("forward" as const, "reverse" as const),
          rotation: fc.constantFrom("ABC" as const, "ACB" as const),
          size: number(0.01, 10),
          turn: number(-180, 180),
          pickup: number(0.5, 8),
        }),
        ({ loop, rotation, size, turn, ...change }) => {
          const given = setting(change);
          const z = polar(size, turn);
          const depth = distanceTo(distanceZone(given), { x: z.re, y: z.im });
          if (Math.abs(depth) > 1e-9) expect(operates(given, faulted(loop, z, rotation))).toBe(depth > 0);
        },
      ),
      1000,
    );
  });

  test("reads the impedance itself on the line angle, whatever its shape and reach", () => {
    holds(
      fc.property(loops, zones, number(0.01, 50), number(0.1, 50), (loop, zone, ohm, pickup) => {
        const { quantity, multiple } = read(faulted(loop, polar(ohm, 75)), setting({ zone, pickup }));
        expect(Math.abs(quantity - ohm)).toBeLessThan(1e-12 * (ohm + 63.5));
        expect(multiple).toBeCloseTo(quantity / pickup, 12);
      }),
    );
  });

  test("does not change when all voltages and currents turn or grow together", () => {
    holds(
      fc.property(loops, zones, number(-180, 180), number(0.1, 10), (loop, zone, turn, times) => {
        const inputs = faulted(loop, polar(2, 60));
        const turned = Object.fromEntries(
          Object.entries(inputs).map(([name, { re, im }]) => [
            name,
            seen(rotate({ re: re * times, im: im * times }, turn)),
          ]),
        );
        expect(read(turned, setting({ zone })).quantity).toBeCloseTo(read(inputs, setting({ zone })).quantity, 10);
      }),
    );
  });

  test("measures nothing without current: healthy voltages, or none at all", () => {
    const healthy = inputsFrom({ v: threePhase(63.5), i: threePhase(0) });
    for (const inputs of [healthy, {}]) {
      const observed = read(inputs, setting());
      expect(observed).toMatchObject({ blocked: false });
      expect(observed.quantity).toBe(4e9);
      expect(operates(setting({ zone: offset }), inputs)).toBe(false);
    }
  });

  test("leaves out a loop whose phases carry less than the minimum", () => {
    const weak = setting({ minimumCurrent: 2.1 });
    for (const loop of ["a", "bc", "abc"] as const) {
      expect(operates(setting(), faulted(loop, polar(2, 75)))).toBe(true);
      expect(operates(weak, faulted(loop, polar(2, 75)))).toBe(false);
      expect(operates(weak, faulted(loop, polar(2, 75), "ABC", 2.2))).toBe(true);
    }
  });

  test("does not take a fault between two phases for a nearer one to earth, which a wide zone would", () => {
    // The loop b to earth of a fault B–C at Z∠75° measures Z + (E/2I)∠−15°: 4.2∠75° + 6.35∠−15° is 7.2 + j2.4.
    const wide = { ...box, resistanceRatio: 8, tilt: 0 } as DistanceZone;
    const beyond = faulted("bc", polar(4.2, 75), "ABC", 5);
    const asEarth = loopImpedance({
      v: { a: beyond["va"]!, b: beyond["vb"]!, c: beyond["vc"]! },
      i: { a: beyond["ia"]!, b: beyond["ib"]!, c: beyond["ic"]! },
      loop: "b",
      k0,
    });
    if (asEarth.kind === "none") throw new Error(asEarth.reason);
    const { re, im } = asEarth.impedance;
    expect(distanceTo(distanceZone(setting({ zone: wide })), { x: re, y: im })).toBeGreaterThan(1);
    expect(operates(setting({ zone: wide }), beyond)).toBe(false);
    expect(operates(setting({ zone: wide }), faulted("bc", polar(3.9, 75), "ABC", 5))).toBe(true);
  });

  test("without voltage has no direction, unless its zone lies around the relay", () => {
    const dead = (current: number): RelayInputs => ({ ia: seen(polar(current, -75)), ib: seen(polar(current, 105)) });
    expect([mho, box, offset].map((zone) => operates(setting({ zone }), dead(5)))).toEqual([false, false, true]);
    expect(read(dead(5), setting())).toMatchObject({ quantity: 0, blocked: true });
    // One millivolt tells.
    const close = (turn: number): RelayInputs => ({ ...dead(5), va: seen(polar(0.001, turn)) });
    expect([0, 180].map((turn) => operates(setting(), close(turn)))).toEqual([true, false]);
  });

  test("a current that is all zero sequence, in phase on all three, is no fault between phases", () => {
    const i = polar(5, -75);
    const inputs = inputsFrom({ v: threePhase(63.5), i: { a: i, b: rotate(i, 360), c: rotate(i, -360) } });
    expect(read(inputs, phaseLoops()).quantity).toBe(4e9);
  });

  test("earth ratios stand for their complex factor", () => {
    const ratios = { resistanceRatio: 0.4, reactanceRatio: 0.9 };
    const factor = earthFactorOfRatios({ resistance: 0.4, reactance: 0.9, lineAngle: 75 });
    const inputs = faulted("b", polar(3, 40));
    expect(read(inputs, setting({ earth: ratios })).quantity).toBe(
      read(inputs, setting({ earth: { factor } })).quantity,
    );
  });

  test("with another k0 is off in the loops to earth alone: |1 + k0|/|1 + k0'|", () => {
    // V = I·Z·1.5 read with k0 = 1 is Z·1.5/2.
    const half = { factor: { re: 0.5, im: 0 } };
    const one = setting({ earth: { factor: { re: 1, im: 0 } } });
    const fault = (loop: Loop) =>
      inputsFrom(
        faultAt({ loop, impedance: polar(4, 75), k0: half.factor, healthyVoltage: 63.5, held: { current: 2 } }),
      );
    expect(read(fault("c"), one).quantity).toBeCloseTo(3, 12);
    expect(read(fault("ca"), one).quantity).toBeCloseTo(4, 12);
  });

  test("a corner of a quadrilateral is on its boundary", () => {
    for (const way of ["forward", "reverse"] as const) {
      const given = setting({ zone: box, operates: way });
      const corners = outlineOf(distanceZone(given)).filter(({ x, y }) => x !== 0 || y !== 0);
      expect(corners).toHaveLength(3);
      for (const { x, y } of corners) {
        // Towards the middle of the zone and away from it, by a millionth.
        const at = (share: number) => {
          const middle = polar(2, way === "forward" ? 60 : 240);
          return { re: x + share * (middle.re - x), im: y + share * (middle.im - y) };
        };
        expect([1e-6, -1e-6].map((share) => operates(given, faulted("ab", at(share))))).toEqual([true, false]);
      }
    }
  });

  test("what stands on its inputs never makes a number that is none", () => {
    const part = fc.oneof(number(-1e3, 1e3), fc.constantFrom(0, 1e-12, 1e-300, 1e200, -1e200));
    const state = fc.record({ re: part, im: part, frequency: fc.constant(50) });
    const inputs = fc.record({ va: state, vb: state, vc: state, ia: state, ib: state, ic: state });
    holds(
      fc.property(inputs, zones, (given, zone) => {
        const { quantity, margin, multiple } = read(given, setting({ zone }));
        for (const value of [quantity, margin, multiple]) expect(Number.isFinite(value)).toBe(true);
        expect(quantity).toBeGreaterThanOrEqual(0);
      }),
      1000,
    );
  });
});

const able = setups.map((setup) => ({ ...setup, ratedCurrent: 5 }));

describe("the places on its boundary", () => {
  const edgesOf = (given: DistanceSetting, setup = able[3]!) => definitionOf("21").edges?.(given, setup) ?? [];
  const names = (given: DistanceSetting) => edgesOf(given).map(({ name }) => name);

  test("are every other loop on the line angle, and the first of each kind 30° to either side", () => {
    expect(names(setting())).toEqual([
      ...["BC-75°", "CA-75°", "A-75°", "B-75°", "C-75°"],
      ...["AB-45°", "AB-105°", "A-45°", "A-105°"],
    ]);
    expect(names(phaseLoops())).toEqual(["BC-75°", "CA-75°", "AB-45°", "AB-105°"]);
    expect(names(setting({ watches: "earth-loops" }))).toEqual(["B-75°", "C-75°", "A-45°", "A-105°"]);
  });

  test("of an offset mho lie behind it too, and those of a zone that looks back on the other side", () => {
    const offsets = edgesOf(phaseLoops({ zone: offset })).map(({ name, at }) => [name, at]);
    expect(offsets).toContainEqual(["AB-255°", 1]);
    expect(names(phaseLoops({ operates: "reverse" }))).toEqual(["BC-255°", "CA-255°", "AB-225°", "AB-285°"]);
  });

  test("of a quadrilateral: its reach in resistance, and the reactance line to both sides of the line angle", () => {
    const found = edgesOf(phaseLoops({ zone: { ...box, tilt: 0 } })).map(({ name, at }) => [name, at]);
    // The resistive reach 0.8 · 4; elsewhere the reactance 4·sin 75° over the sine of the angle.
    const reactance = 4 * Math.sin((75 * Math.PI) / 180);
    const sine = (degrees: number) => Math.sin((degrees * Math.PI) / 180);
    expect(found.slice(2).map(([name]) => name)).toEqual(["AB-0°", "AB-21°", "AB-59°", "AB-95°", "AB-from", "AB-to"]);
    expect(found[2]?.[1]).toBe(3.2);
    // The triangle of the resistive reach and the blinder at 75°: 3.2 · sin 75°/sin(75° − 21°).
    expect(found[3]?.[1]).toBeCloseTo((3.2 * sine(75)) / sine(54), 4);
    expect(found[4]?.[1]).toBeCloseTo(reactance / sine(59), 4);
    expect(found[5]?.[1]).toBeCloseTo(reactance / sine(95), 4);
  });

  test("of a quadrilateral: the lines between which it looks, in angle, the voltages and the size held", () => {
    const edges = edgesOf(phaseLoops({ zone: { ...box, tilt: 0 }, operates: "reverse" }));
    const [from, to] = ["AB-from", "AB-to"].map((named) => edges.find(({ name }) => name === named));
    expect(from).toMatchObject({ unit: "°", side: "over", at: box.forward.from + 180, heldTo: "angle" });
    expect(to).toMatchObject({ unit: "°", side: "under", at: box.forward.to + 180, heldTo: "angle" });
    const { pose } = to!;
    if (pose.kind === "none") throw new Error(pose.reason);
    const seen = (level: number) => inputsOf(standingAt(pose, level), pose.wiring);
    const sizes = [280, 290].map((level) => {
      const { va, vb, ia, ib } = seen(level);
      expect([ia!.re + ib!.re, ia!.im + ib!.im].map((x) => Math.abs(x) < 1e-9)).toEqual([true, true]);
      return Math.hypot(va!.re - vb!.re, va!.im - vb!.im) / Math.hypot(ia!.re - ib!.re, ia!.im - ib!.im);
    });
    // Half of the reactance line at the limit, 115°, or 10° inside, the nearer one.
    const sine = (degrees: number) => Math.sin((degrees * Math.PI) / 180);
    const size = (0.5 * 4 * sine(75)) / sine(105);
    expect(sizes[0]).toBeCloseTo(size, 5);
    expect(sizes[1]).toBeCloseTo(size, 5);
    expect(pose.note).toBe(
      `loop a–b at ${Number(size.toPrecision(6))} ohm, whose angle moves with the current, 5 A out on a and back on b: Vab = 2·I·Z around −½·Vc`,
    );
  });

  test("of a quadrilateral: its lines are found at every angle, though a point on one is rounded to either side", () => {
    const turn = { forward: 0, reverse: 180 };
    for (const operates of ["forward", "reverse"] as const)
      for (const [from, to] of Array.from({ length: 180 }, (_, i) => [-59 + i / 3, 100 + i / 3] as const)) {
        const relay = phaseLoops({ zone: { ...box, forward: { from, to } }, operates });
        for (const { name, at, side, pose } of edgesOf(relay).filter(({ unit }) => unit === "°")) {
          expect(at).toBe({ "AB-from": from, "AB-to": to }[name]! + turn[operates]);
          if (pose.kind === "none") throw new Error(pose.reason);
          const inside = at + (side === "over" ? 1 : -1);
          const { margin, blocked } = definitionOf("21").read(inputsOf(standingAt(pose, inside), pose.wiring), relay);
          expect([margin > 0, blocked]).toEqual([true, false]);
        }
      }
  });

  test("of the loops to earth of a relay with two earth ratios are told on the line angle alone", () => {
    const posed = (earth: object) => edgesOf(setting({ earth })).map(({ name, pose }) => `${name} ${pose.kind}`);
    const different = posed({ resistanceRatio: 0.4, reactanceRatio: 0.9 });
    expect(different).toEqual(expect.arrayContaining(["A-75° found", "A-45° none", "AB-45° found"]));
    expect(posed({ resistanceRatio: 0.7, reactanceRatio: 0.7 })).toContain("A-45° found");
  });

  test("lie where it begins to operate, on every bench", () => {
    holds(
      fc.property(
        fc.constantFrom(...able),
        fc.record({
          zone: zones,
          pickup: number(0.05, 60),
          operates: fc.constantFrom("forward", "reverse"),
          earth: fc.tuple(number(0, 2), number(-40, 40)).map(([size, turn]) => ({ factor: polar(size, turn) })),
        }),
        (setup, change) => {
          const given = setting(change);
          for (const { name, at, pose, side, unit } of edgesOf(given, setup)) {
            if (pose.kind === "none") throw new Error(pose.reason);
            const aside = unit === "°" ? 0.001 : 0.0001 * at;
            const operatesAt = (level: number) => operates(given, inputsOf(standingAt(pose, level), pose.wiring));
            const both = [operatesAt(at - aside), operatesAt(at + aside)];
            expect([name, ...both]).toEqual([name, side === "under", side === "over"]);
          }
        },
      ),
      60,
    );
  });
});

describe("its injection", () => {
  const pose = (given: DistanceSetting, setup = able[3]!) => {
    const posed = definitionOf("21").pose(given, setup);
    if (posed.kind === "none") throw new Error(posed.reason);
    return posed;
  };

  test("is that of a fault with the current held, on three channels", () => {
    holds(
      fc.property(fc.constantFrom(...able), number(0.1, 6), fc.constantFrom("phase", "earth"), (bench, ohm, kind) => {
        const setup = { ...bench, voltageChannels: 3, currentChannels: 3 } as const;
        const given = kind === "phase" ? phaseLoops() : setting({ watches: "earth-loops" });
        const posed = pose(given, setup);
        const inputs = inputsOf(standingAt(posed, ohm), posed.wiring);
        const { v, i } = faultAt({
          loop: kind === "phase" ? "ab" : "a",
          impedance: polar(ohm, 75),
          k0,
          healthyVoltage: 110 / Math.sqrt(3),
          rotation: setup.rotation,
          held: { current: standingAt(posed, ohm)["ia"]?.rms ?? 0 },
        });
        for (const [name, expected] of Object.entries(inputsFrom({ v, i }))) {
          expect(inputs[name]?.re ?? 0).toBeCloseTo(expected.re, 9);
          expect(inputs[name]?.im ?? 0).toBeCloseTo(expected.im, 9);
        }
      }),
    );
  });

  describe("holds a current", () => {
    const rms = (given: DistanceSetting, name: string, largestCurrent?: number) => {
      const setup = { ...able[3]!, ...(largestCurrent !== undefined && { largestCurrent }) };
      return standingAt(pose(given, setup), given.pickup)[name]?.rms;
    };
    const earthLoops = (change: object) => setting({ watches: "earth-loops", ...change });

    test("that leaves the loop 0.7 of its rated voltage at the most, and is rated else", () => {
      expect(rms(earthLoops({ pickup: 1 }), "ia")).toBe(5);
      expect(rms(earthLoops({ pickup: 60 }), "va")).toBeCloseTo((0.7 * 110) / Math.sqrt(3), 0);
      expect(rms(phaseLoops({ pickup: 60 }), "ia")).toBeCloseTo((0.7 * 110) / 120, 2);
    });

    test("that is raised to twice rated where less than a tenth of the voltage would be left", () => {
      // 2 · 5 A · 0.9 ohm are 9 of 110 V: 11 V take 6.11 A. 2 · 5 A · 1.2 ohm are 12 V.
      expect(rms(phaseLoops({ pickup: 0.9 }), "ia")).toBe(6.11);
      expect(rms(phaseLoops({ pickup: 1.2 }), "ia")).toBe(5);
      expect(rms(phaseLoops({ pickup: 0.05 }), "ia")).toBe(10);
      // 10 A · 0.05 ohm · |1 + k0|: 0.8 V.
      expect(rms(earthLoops({ pickup: 0.05 }), "va")).toBeCloseTo(0.5 * Math.hypot(1 + k0.re, k0.im), 12);
    });

    test("that is not more than the source makes and the inputs carry, cut off after three digits", () => {
      expect(rms(phaseLoops({ pickup: 0.05 }), "ia", 8)).toBe(8);
      expect(rms(phaseLoops(), "ia", 3.9999)).toBe(3.99);
      expect(rms(phaseLoops({ pickup: 60 }), "ia", 3)).toBeCloseTo((0.7 * 110) / 120, 2);
    });

    test("that is clearly above the minimum, whatever the source makes: it has to refuse that itself", () => {
      expect(rms(phaseLoops({ minimumCurrent: 2 }), "ia", 2.5)).toBe(2.5);
      expect(rms(phaseLoops({ minimumCurrent: 2 }), "ia", 2.2)).toBe(2.4);
      expect(rms(phaseLoops({ minimumCurrent: 10, pickup: 0.05 }), "ia")).toBe(12);
    });
  });

  test("begins from rated voltages and no current", () => {
    for (const setup of able) {
      for (const given of [phaseLoops(), setting({ watches: "earth-loops" })]) {
        const { healthy = {}, wiring } = pose(given, setup);
        const inputs = inputsOf(healthy, wiring);
        expect(Object.keys(inputs).filter((name) => name.startsWith("i"))).toEqual([]);
        const across = Math.hypot(
          inputs["va"]!.re - (given.watches === "phase-loops" ? inputs["vb"]!.re : 0),
          inputs["va"]!.im - (given.watches === "phase-loops" ? inputs["vb"]!.im : 0),
        );
        expect(across).toBeCloseTo(given.watches === "phase-loops" ? 110 : 110 / Math.sqrt(3), 9);
      }
    }
  });

  test("on one channel of each says that no sound phase has voltage", () => {
    const single = { ...able[0]!, currentChannels: 1, voltageChannels: 1 } as const;
    expect(pose(phaseLoops(), single).wiring).toEqual({
      i: { quantity: "current", feeds: { ia: 1, ib: -1 } },
      v: { quantity: "voltage", feeds: { va: 0.5, vb: -0.5 } },
    });
    expect(pose(phaseLoops(), single).note).toBe(
      "loop a–b at 75°, 5 A out on a and back on b: Vab = 2·I·Z; no voltage on the sound phases, which some relays need",
    );
    expect(pose(setting({ watches: "earth-loops" })).note).toBe(
      "loop a to earth at 75°, 5 A on a: Va = 1.667·I·Z, k0 = 0.67∠-7.5°",
    );
    expect(pose(phaseLoops()).note).toBe("loop a–b at 75°, 5 A out on a and back on b: Vab = 2·I·Z around −½·Vc");
  });

  test("at a minimum current near rated, or above, takes more than rated: a fifth more than the minimum", () => {
    // 2 · 2.4 A · 4 ohm = 19.2 V, far below the 110 V of the loop.
    const posed = pose(phaseLoops({ minimumCurrent: 2 }), { ...able[3]!, ratedCurrent: 1 });
    expect(standingAt(posed, 4)["ia"]?.rms).toBeCloseTo(2.4, 12);
    expect(operates(phaseLoops({ minimumCurrent: 2 }), inputsOf(standingAt(posed, 3.99), posed.wiring))).toBe(true);
  });

  test("that needs more than rated voltage at the minimum current is told so", () => {
    const posed = definitionOf("21").pose(phaseLoops({ pickup: 60, minimumCurrent: 1 }), able[3]!);
    expect(posed).toEqual({
      kind: "none",
      reason: "60 ohm take more than rated voltage at the minimum current of 1 A",
    });
  });
});

test("has to stay quiet for a close fault on the other side, further than an offset reaches", () => {
  const stills = (given: DistanceSetting) => definitionOf("21").stills?.(given, able[3]!) ?? [];
  expect(stills(setting()).map(({ name, level }) => [name, level])).toEqual([
    ["reverse-AB", 0.8],
    ["reverse-A", 0.8],
  ]);
  expect(stills(phaseLoops({ zone: offset, operates: "reverse" })).map(({ name, level }) => [name, level])).toEqual([
    ["forward-AB", 2],
  ]);
  for (const given of [setting(), setting({ zone: box }), setting({ zone: offset, operates: "reverse" })]) {
    for (const { level, pose } of stills(given)) {
      if (pose.kind === "none") throw new Error(pose.reason);
      const inputs = inputsOf(standingAt(pose, level), pose.wiring);
      expect(operates(given, inputs)).toBe(false);
      expect(operates({ ...given, operates: given.operates === "forward" ? "reverse" : "forward" }, inputs)).toBe(true);
    }
  }
});

test.each([
  [{ zone: undefined }, "zone"],
  [{ zone: { form: "lens", lineAngle: 75 } }, "zone.form"],
  [{ zone: { ...mho, lineAngle: 180 } }, "zone.lineAngle"],
  [{ zone: { ...mho, lineAngle: Number.NaN } }, "zone.lineAngle"],
  [{ zone: { ...mho, reverseRatio: -0.1 } }, "zone.reverseRatio"],
  [{ zone: { ...mho, tilt: 3 } }, "zone.tilt"],
  [{ zone: { ...box, resistanceRatio: 0 } }, "zone.resistanceRatio"],
  [{ zone: { ...box, forward: { from: 80, to: 115 } } }, "zone.forward.from"],
  [{ zone: { ...box, blinderAngle: 120 } }, "zone.blinderAngle"],
  [{ earth: undefined }, "earth"],
  [{ watches: "phase-loops" }, "earth"],
  [{ earth: { factor: { re: Number.NaN, im: 0 } } }, "earth.factor.re"],
  [{ earth: { factor: k0, reactanceRatio: 1 } }, "earth.factor"],
  [{ earth: { resistanceRatio: 1 } }, "earth.reactanceRatio"],
  [{ earth: { factor: { re: -1, im: 0 } } }, "earth"],
  [{ minimumCurrent: -1 }, "minimumCurrent"],
  [{ operates: "both" }, "operates"],
  [{ law: { curve: "iec-inverse" } }, "law.curve"],
  [{ dropout: { ratio: 0.95 } }, "dropout.ratio"],
])("refuses %j", (change, path) => {
  expect(problemsOf(() => checkedDefinition(setting(change)))).toMatchObject([{ path }]);
});

test("a zone whose lines do not close is shown as it was given, not as the reactance made of it", () => {
  const zone = { ...box, tilt: -80 };
  const [problem] = problemsOf(() => checkedDefinition(setting({ zone })));
  expect(problem).toMatchObject({ path: "zone", received: expect.stringContaining('"resistanceRatio":') });
});
