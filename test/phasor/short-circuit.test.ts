import fc from "fast-check";
import {
  add,
  complexPower,
  multiply,
  type Phasor,
  polar,
  type Rotation,
  rotate,
  type ShortCircuitInputs,
  type ShortCircuitType,
  scale,
  shortCircuit,
  subtract,
} from "tripwright/phasor";
import { describe, expect, test } from "vitest";
import { type ComplexReference, complex, gap } from "../base/reference.js";
import { spread } from "../base/spread.js";
import { holds } from "../support/holds.js";
import { largest, minus, over, plus, real, times } from "./decimals.js";
import { distance, sizeOf } from "./phasors.js";

const NONE: Phasor = { re: 0, im: 0 };
const TYPES = ["three-phase", "line-to-line", "line-to-ground", "double-line-to-ground"] as const;
const types = fc.constantFrom<ShortCircuitType>(...TYPES);
const rotations = fc.constantFrom<Rotation>("ABC", "ACB");

/** Impedances from a milliohm to a kiloohm, from resistive to inductive, and their absence. */
const impedances = fc.tuple(spread(-3, 3), spread(0, 90)).map(([power, degrees]) => polar(10 ** power, degrees));
const maybe = fc.oneof({ weight: 1, arbitrary: fc.constant(NONE) }, { weight: 3, arbitrary: impedances });
const voltages = fc.tuple(spread(-1, 6), spread(-180, 180)).map(([power, degrees]) => polar(10 ** power, degrees));
type Full = Required<ShortCircuitInputs> & { readonly z0: Phasor };
const networks: fc.Arbitrary<Omit<Full, "type">> = fc.record({
  voltage: voltages,
  z1: impedances,
  z2: impedances,
  z0: impedances,
  zFault: maybe,
  zGround: maybe,
  rotation: rotations,
});
/** z0 closed or open, whatever the type. */
const faults: fc.Arbitrary<Required<ShortCircuitInputs>> = fc
  .tuple(types, networks, fc.boolean())
  .map(([type, network, isOpen]) => ({ ...network, type, ...(isOpen && { z0: "open" as const }) }));

const NAMES = ["a", "b", "c", "zero", "positive", "negative"] as const;
const greatest = (set: { readonly [name in (typeof NAMES)[number]]: Phasor }) =>
  Math.max(...NAMES.map((name) => sizeOf(set[name])));

/** The same fault, with each of its impedances changed. */
function mapped(fault: Required<ShortCircuitInputs>, change: (z: Phasor) => Phasor): ShortCircuitInputs {
  const { z1, z2, z0, zFault, zGround } = fault;
  return {
    ...fault,
    z1: change(z1),
    z2: change(z2),
    z0: z0 === "open" ? z0 : change(z0),
    zFault: change(zFault),
    zGround: change(zGround),
  };
}

const total = (...phasors: readonly Phasor[]) => phasors.reduce(add);

describe("a short circuit", () => {
  test("obeys the networks: V1 = E − I1·Z1, V2 = −I2·Z2, V0 = −I0·Z0, and no I0 where Z0 is open", () => {
    holds(
      fc.property(faults, (fault) => {
        const { voltage, z1, z2, z0 } = fault;
        const { currents: i, voltages: v } = shortCircuit(fault);
        const slack = 1e-14 * sizeOf(voltage);
        expect(distance(v.positive, subtract(voltage, multiply(i.positive, z1)))).toBeLessThanOrEqual(slack);
        expect(distance(v.negative, scale(multiply(i.negative, z2), -1))).toBeLessThanOrEqual(slack);
        if (z0 === "open") expect(i.zero).toEqual(NONE);
        else expect(distance(v.zero, scale(multiply(i.zero, z0), -1))).toBeLessThanOrEqual(slack);
      }),
      500,
    );
  });

  test("obeys the fault: who carries current, and what the faulted phases have for voltage", () => {
    holds(
      fc.property(faults, (fault) => {
        const { type, voltage, zFault, zGround } = fault;
        const { currents: i, voltages: v, groundCurrent } = shortCircuit(fault);
        const largestCurrent = Math.max(...[i.a, i.b, i.c].map(sizeOf));
        const [amperes, volts] = [1e-14 * largestCurrent, 2e-14 * sizeOf(voltage)];
        const alongGround = multiply(zGround, groundCurrent);
        /** From the phase to where the faulted phases meet, and on to ground. */
        const dropOf = (phase: "a" | "b" | "c") => add(multiply(zFault, i[phase]), alongGround);
        expect(distance(groundCurrent, total(i.a, i.b, i.c))).toBeLessThanOrEqual(amperes);
        switch (type) {
          case "three-phase":
            for (const phase of ["a", "b", "c"] as const)
              expect(distance(v[phase], multiply(zFault, i[phase]))).toBeLessThanOrEqual(volts);
            break;
          case "line-to-line":
            expect([i.a, groundCurrent]).toEqual([NONE, NONE]);
            expect(distance(i.b, scale(i.c, -1))).toBeLessThanOrEqual(amperes);
            expect(distance(subtract(v.b, v.c), multiply(zFault, i.b))).toBeLessThanOrEqual(volts);
            break;
          case "line-to-ground":
            expect([i.b, i.c]).toEqual([NONE, NONE]);
            expect(distance(v.a, dropOf("a"))).toBeLessThanOrEqual(volts);
            break;
          case "double-line-to-ground":
            expect(i.a).toEqual(NONE);
            for (const phase of ["b", "c"] as const)
              expect(distance(v[phase], dropOf(phase))).toBeLessThanOrEqual(volts);
        }
      }),
      500,
    );
  });

  test("is within 4e-15 of its largest current and of the voltage before it of 50-digit values", () => {
    const three = complex({ re: 3, im: 0 });
    /** I1, I2 and I0 by the impedances beside each other, as the textbooks draw them. */
    function exact({ type, voltage, ...z }: Full): readonly ComplexReference[] {
      const [e, z1, z2, z0] = [voltage, z.z1, z.z2, z.z0].map(complex) as [
        ComplexReference,
        ComplexReference,
        ComplexReference,
        ComplexReference,
      ];
      const [f, g] = [complex(z.zFault), complex(z.zGround)];
      const none = real(0);
      if (type === "three-phase") return [over(e, plus(z1, f)), none, none];
      if (type === "line-to-line") {
        const i = over(e, plus(z1, z2, f));
        return [i, minus(none, i), none];
      }
      if (type === "line-to-ground") {
        const i = over(e, plus(z1, z2, z0, times(three, f), times(three, g)));
        return [i, i, i];
      }
      const [b, c] = [plus(z2, f), plus(z0, f, times(three, g))];
      const beside = over(times(b, c), plus(b, c));
      const i = over(e, plus(z1, f, beside));
      const back = minus(none, times(i, beside));
      return [i, over(back, b), over(back, c)];
    }
    holds(
      fc.property(types, networks, (type, network) => {
        const fault = { ...network, type };
        const { currents, voltages } = shortCircuit(fault);
        const [i1, i2, i0] = exact(fault) as [ComplexReference, ComplexReference, ComplexReference];
        const [e, none] = [complex(fault.voltage), real(0)];
        const amperes = largest(i1, i2, i0).times(4e-15);
        const volts = largest(e).times(4e-15);
        expect(gap(currents.positive, i1).lte(amperes)).toBe(true);
        expect(gap(currents.negative, i2).lte(amperes)).toBe(true);
        expect(gap(currents.zero, i0).lte(amperes)).toBe(true);
        expect(gap(voltages.positive, minus(e, times(i1, complex(fault.z1)))).lte(volts)).toBe(true);
        expect(gap(voltages.negative, minus(none, times(i2, complex(fault.z2)))).lte(volts)).toBe(true);
        expect(gap(voltages.zero, minus(none, times(i0, complex(fault.z0)))).lte(volts)).toBe(true);
      }),
      150,
    );
  });
});

describe("short circuits beside each other", () => {
  test("turn and grow with the voltage, and currents alone shrink as impedances grow", () => {
    const turns = fc.tuple(spread(-180, 180), fc.integer({ min: -40, max: 40 }));
    holds(
      fc.property(faults, turns, (fault, [degrees, power]) => {
        const factor = 2 ** power;
        const [plain, turned, grown] = [
          shortCircuit(fault),
          shortCircuit({ ...fault, voltage: rotate(fault.voltage, degrees) }),
          shortCircuit(mapped(fault, (z) => scale(z, factor))),
        ];
        const [amperes, volts] = [1e-14 * greatest(plain.currents), 1e-14 * sizeOf(fault.voltage)];
        for (const name of NAMES) {
          expect(distance(turned.currents[name], rotate(plain.currents[name], degrees))).toBeLessThanOrEqual(amperes);
          expect(distance(turned.voltages[name], rotate(plain.voltages[name], degrees))).toBeLessThanOrEqual(volts);
          expect(scale(grown.currents[name], factor)).toEqual(plain.currents[name]);
          expect(grown.voltages[name]).toEqual(plain.voltages[name]);
        }
      }),
    );
  });

  test("change b and c with the rotation, and nothing else", () => {
    holds(
      fc.property(faults, (fault) => {
        const [one, two] = (["ABC", "ACB"] as const).map((rotation) => shortCircuit({ ...fault, rotation }));
        for (const kind of ["currents", "voltages"] as const) {
          const { b, c, ...rest } = one?.[kind] ?? {};
          expect(two?.[kind]).toEqual({ ...rest, b: c, c: b });
        }
      }),
    );
  });

  test("take no more power out of the networks than the fault uses up", () => {
    holds(
      fc.property(faults, (fault) => {
        const { type, zFault, zGround } = fault;
        const { currents: i, voltages: v, groundCurrent } = shortCircuit(fault);
        const { active, reactive } = complexPower(v, i);
        const used = (z: Phasor, current: Phasor) => scale(z, sizeOf(current) ** 2);
        const inPhases =
          type === "line-to-line" ? used(zFault, i.b) : total(...[i.a, i.b, i.c].map((p) => used(zFault, p)));
        const slack = 1e-13 * sizeOf(fault.voltage) * greatest(i);
        const inGround = used(zGround, groundCurrent);
        expect(distance({ re: active, im: reactive }, add(inPhases, inGround))).toBeLessThanOrEqual(slack);
      }),
      500,
    );
  });

  test("of equal impedances: a phase to ground has the current of all three, two phases √3/2 of it", () => {
    holds(
      fc.property(voltages, impedances, (voltage, z1) => {
        const [all, lines, ground, both] = TYPES.map((type) => shortCircuit({ type, voltage, z1, z0: z1 }).currents);
        const size = sizeOf(all?.a ?? NONE);
        expect(distance(ground?.a ?? NONE, all?.a ?? NONE)).toBeLessThanOrEqual(1e-14 * size);
        expect(Math.abs(sizeOf(lines?.b ?? NONE) - (Math.sqrt(3) / 2) * size)).toBeLessThanOrEqual(1e-14 * size);
        // Two phases to ground: each carries what it carries where all three are joined.
        for (const phase of ["b", "c"] as const)
          expect(distance(both?.[phase] ?? NONE, all?.[phase] ?? NONE)).toBeLessThanOrEqual(1e-14 * size);
      }),
    );
  });

  test("come near those of an open zero sequence as Z0 grows", () => {
    const grounded = fc.constantFrom<ShortCircuitType>("line-to-ground", "double-line-to-ground");
    holds(
      fc.property(grounded, networks, (type, network) => {
        const open = shortCircuit({ ...network, type, z0: "open" });
        const far = shortCircuit({ ...network, type, z0: { re: 0, im: 1e16 } });
        const amperes = 1e-11 * Math.max(greatest(open.currents), greatest(far.currents));
        for (const name of NAMES) {
          expect(distance(far.voltages[name], open.voltages[name])).toBeLessThanOrEqual(
            1e-11 * sizeOf(network.voltage),
          );
          if (type === "double-line-to-ground")
            expect(distance(far.currents[name], open.currents[name])).toBeLessThanOrEqual(amperes);
          else expect(open.currents[name]).toEqual(NONE);
        }
      }),
    );
  });

  test("without ground do not mind what the ground is like", () => {
    const ungrounded = fc.constantFrom<ShortCircuitType>("three-phase", "line-to-line");
    holds(
      fc.property(ungrounded, networks, impedances, (type, { z0: _, ...network }, z0) => {
        const bare = shortCircuit({ ...network, type });
        expect(shortCircuit({ ...network, type, z0, zGround: z0 })).toEqual(bare);
        expect(shortCircuit({ ...network, type, z0: "open" })).toEqual(bare);
        expect([bare.currents.zero, bare.voltages.zero]).toEqual([NONE, NONE]);
      }),
    );
  });

  test("take z1 for z2, no fault impedance and ABC where nothing else is said", () => {
    holds(
      fc.property(types, networks, (type, { voltage, z1, z0 }) => {
        const full = { zFault: NONE, zGround: NONE, rotation: "ABC" } as const;
        expect(shortCircuit({ type, voltage, z1, z0 })).toEqual(
          shortCircuit({ type, voltage, z1, z2: z1, z0, ...full }),
        );
      }),
    );
  });

  test("by hand, with nothing where there is nothing", () => {
    const network = { voltage: { re: 1, im: 0 }, z1: { re: 0, im: 0.1 }, z0: { re: 0, im: 0.3 } };
    const ground = shortCircuit({ type: "line-to-ground", ...network });
    // 1/(0.1 + 0.1 + 0.3) = 2, and three times that in the phase.
    expect(ground.currents).toMatchObject({ a: { re: 0, im: -6 }, b: NONE, c: NONE, zero: { re: 0, im: -2 } });
    expect(ground.groundCurrent).toEqual({ re: 0, im: -6 });
    expect(ground.voltages.a).toEqual(NONE);
    const open = shortCircuit({ type: "line-to-ground", ...network, z0: "open" }).voltages;
    // The healthy phases rise to the voltage between lines.
    expect([sizeOf(open.b), sizeOf(open.c)]).toEqual([
      expect.closeTo(Math.sqrt(3), 15),
      expect.closeTo(Math.sqrt(3), 15),
    ]);
    const both = shortCircuit({ type: "double-line-to-ground", ...network, zGround: { re: 0, im: 0.1 } });
    // 0.1 beside 0.3 + 3 · 0.1 is 6/70: 1/(0.1 + 6/70) = 70/13.
    expect(both.currents.positive.im).toBeCloseTo(-70 / 13, 14);
    expect(both.currents.a).toEqual(NONE);
    const bolted = shortCircuit({ type: "double-line-to-ground", ...network }).voltages;
    expect([bolted.b, bolted.c]).toEqual([NONE, NONE]);
    const three = shortCircuit({ type: "three-phase", ...network }).voltages;
    expect(three).toEqual({ a: NONE, b: NONE, c: NONE, zero: NONE, positive: NONE, negative: NONE });
  });
});
