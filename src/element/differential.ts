import { fail } from "../base/check.js";
import { plain } from "../base/written.js";
import { type Above, differentialPoint, heightAt, type Point } from "../characteristic/index.js";
import type { Definition, Doubt, Observation } from "./definition.js";
import { observe } from "./definition.js";
import { edges, stills } from "./differential-places.js";
import { fromFirst } from "./differential-poses.js";
import { passesPickup, regionOf, restraintAlone, startsAlone } from "./differential-region.js";
import { checkPlain, comparedOn, differentialOf } from "./differential-zone.js";
import type { RelayInputs } from "./inputs.js";
import type { DifferentialSetting } from "./setting.js";

/**
 * The differential current, scaled so that it equals the pickup where one side alone starts the function. With current on
 * both sides that may contradict the characteristic: then it is scaled by what the characteristic asks for at its restraint.
 */
function quantityAt({ x, y }: Point, { pickup }: DifferentialSetting, region: Above, perPickup: number): number {
  const alone = y / perPickup;
  const height = heightAt(region, x);
  return alone > pickup === y > height ? alone : (y / height) * pickup;
}

const SECOND = 2;

/** One phase: where it lies, how far it comes, and whether its second harmonic blocks it. */
interface PhaseSeen {
  readonly point: Point;
  readonly quantity: number;
  readonly isBlocked: boolean;
  readonly isDistorted: boolean;
}

/** The phase that is furthest beyond the characteristic, of those that no second harmonic blocks. */
function decisive(inputs: RelayInputs, setting: DifferentialSetting): PhaseSeen {
  const { zone, restraint, secondHarmonic, pickup } = setting;
  const region = regionOf(setting);
  const perPickup = (startsAlone(setting, region) ?? pickup) / pickup;
  const distorted = secondHarmonic === undefined ? [] : comparedOn(inputs, zone, SECOND).map(differentialOf);
  const phases = comparedOn(inputs, zone).map((pair, i): PhaseSeen => {
    const point = differentialPoint(pair, restraint);
    const harmonic = distorted[i] ?? 0;
    return {
      point,
      quantity: quantityAt(point, setting, region, perPickup),
      isDistorted: harmonic > 0,
      isBlocked: harmonic > 0 && harmonic >= (secondHarmonic ?? 0) * differentialOf(pair),
    };
  });
  const free = phases.filter(({ isBlocked }) => !isBlocked);
  return (free.length > 0 ? free : phases).reduce((most, phase) => (phase.quantity > most.quantity ? phase : most));
}

/** Where a phase lies tells nothing of one that its second harmonic blocks or lets go. */
function place(inputs: RelayInputs, setting: DifferentialSetting): Point | undefined {
  const { point, isDistorted } = decisive(inputs, setting);
  return isDistorted ? undefined : point;
}

function read(inputs: RelayInputs, setting: DifferentialSetting): Observation {
  const { quantity, isBlocked } = decisive(inputs, setting);
  return observe(quantity, setting, "over", { blocked: isBlocked });
}

/** A fault that is fed from one side alone has to operate it, however large; and a slope has to have room. */
function doubts(setting: DifferentialSetting): Doubt[] {
  return [...steep(setting), ...swallowed(setting)];
}

function swallowed(setting: DifferentialSetting): Doubt[] {
  const [begun, begins] = [passesPickup(setting), setting.slopes[1]?.begins];
  if (begins === undefined || begins >= begun) return [];
  const expected = `a restraint of at least ${plain(begun, 6)} A, at which the first slope passes the pickup`;
  return [{ field: "slopes[1].begins", expected, received: `${begins} A` }];
}

function steep(setting: DifferentialSetting): Doubt[] {
  const most = 1 / restraintAlone(setting);
  return setting.slopes.flatMap(({ slope }, i) =>
    slope < most
      ? []
      : {
          field: `slopes[${i}].slope`,
          expected: `a slope below ${most} with a restraint of the ${setting.restraint}, or a fault fed from one side alone may not operate it`,
          received: String(slope),
        },
  );
}

function checkTogether(setting: DifferentialSetting): void {
  regionOf(setting);
  checkLevelStart(setting);
}

/** The characteristic says where it starts. */
export function checkLevelStart({ law: { startRatio } }: Pick<DifferentialSetting, "law">): void {
  if (startRatio !== undefined && startRatio !== 1)
    fail("not-applicable", "law.startRatio", "nothing, since the characteristic says where it starts", startRatio);
}

const common = {
  unit: "A",
  side: "over",
  watches: ["differential"],
  fields: ["restraint", "slopes", "secondHarmonic"],
  system: ["zone"],
  laws: ["definite"],
  instantaneous: true,
  doubts,
  read,
  plane: {
    axes: { x: { quantity: "Restraint", unit: "A" }, y: { quantity: "Differential current", unit: "A" } },
    equal: false,
    region: regionOf,
    place,
  },
  pose: fromFirst,
  edges,
  stills,
  healthyLevel: () => 0,
  practice: {
    around: { ratio: 0.1 },
    // One side alone at twice the setting.
    beyond: { ratio: 1 },
    multiples: [],
    measuringCycles: 2,
    dropout: { ratio: 0.95 },
  },
} as const;

/** 87: restrained differential of a machine or a line, whose two sides are compared as they are. */
export const restrainedDifferential: Definition<DifferentialSetting> = {
  ...common,
  function: "87",
  title: "restrained differential",
  source: "IEEE C37.2 device function 87; restraint and slopes: common practice",
  check: (setting) => {
    checkPlain(setting);
    checkTogether(setting);
  },
};

/** 87T: restrained differential of a transformer. */
export const transformerDifferential: Definition<DifferentialSetting> = {
  ...common,
  function: "87T",
  title: "restrained transformer differential",
  source: "IEEE C37.2 device function 87, suffix T; clock numbers: IEC 60076-1",
  check: checkTogether,
};
