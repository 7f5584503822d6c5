/** The two sides of a differential zone, and what of their currents is compared. */
import { above, fail, nameIn, object, whole } from "../base/check.js";
import { within } from "../base/input-error.js";
import { compensated } from "../characteristic/index.js";
import { add, magnitude, type Phases, type Phasor, scale } from "../phasor/index.js";
import type { Zone, ZoneSide } from "./differential-setting.js";
import type { RelayInputs } from "./inputs.js";

const NOTHING: Phasor = { re: 0, im: 0 };

/** The phases of a side in the names of its inputs: `ia`, or `ia2`. */
export const SUFFIX = { first: "", second: "2" } as const;

/** Which side is meant. */
export type SideName = keyof typeof SUFFIX;

/** The currents of one phase of both sides: compensated, counted into the zone, as currents of the first side. */
export type Pair = readonly [first: Phasor, second: Phasor];

/** What the three inputs of a side see, of the fundamental or of a harmonic. */
function phasesOf(inputs: RelayInputs, side: SideName, order: number): Phases {
  const seen = (phase: string): Phasor => {
    const input = inputs[`i${phase}${SUFFIX[side]}`];
    return (order === 1 ? input : input?.harmonics?.[order]) ?? NOTHING;
  };
  return { a: seen("a"), b: seen("b"), c: seen("c") };
}

/** What is compared phase by phase: of the fundamental, or of a harmonic. */
export function comparedOn(inputs: RelayInputs, zone: Zone, order = 1): readonly [Pair, Pair, Pair] {
  const { clock, zeroSequence } = zone.first;
  const first = compensated(phasesOf(inputs, "first", order), { clock, zeroSequence });
  const second = compensated(phasesOf(inputs, "second", order), {
    clock: zone.second.clock,
    zeroSequence: zone.second.zeroSequence,
  });
  const carried = (phasor: Phasor) => scale(phasor, zone.first.ratedCurrent / zone.second.ratedCurrent);
  return [
    [first.a, carried(second.a)],
    [first.b, carried(second.b)],
    [first.c, carried(second.c)],
  ];
}

/** |Σ i| of one phase. */
export const differentialOf = ([first, second]: Pair): number => magnitude(add(first, second));

/** Whether no phase of a side has anything of its zero sequence left. */
export const isWithoutZero = ({ clock, zeroSequence }: ZoneSide): boolean =>
  clock % 2 === 1 || zeroSequence === "removed";

/** Checks a zone. */
export function checkDifferentialZone(value: unknown): void {
  const zone = object(value as Zone, "zone", "the two sides of a differential zone { first, second }");
  for (const name of ["first", "second"] as const) {
    within(`zone.${name}`, () => {
      const side = object(zone[name], "", "a side { ratedCurrent, clock, zeroSequence }");
      above(side.ratedCurrent, 0, "ratedCurrent", "a rated secondary current", "A");
      whole(side.clock, [0, 11], "clock", "a clock number");
      nameIn(side.zeroSequence, { kept: true, removed: true }, "zeroSequence");
    });
  }
}

/** A function without a transformer in its zone compares the phases as they are. */
export function checkPlain({ zone }: { readonly zone: Zone }): void {
  for (const name of ["first", "second"] as const) {
    const { clock, zeroSequence } = zone[name];
    if (clock !== 0) fail("conflict", `zone.${name}.clock`, "0 for function 87; with a transformer it is 87T", clock);
    if (zeroSequence !== "kept")
      fail(
        "conflict",
        `zone.${name}.zeroSequence`,
        '"kept" for function 87; with a transformer it is 87T',
        zeroSequence,
      );
  }
}
