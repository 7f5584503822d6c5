/** Places on the boundary of a restrained differential function, and where it has to stay quiet. */
import { differentialPoint, heightAt, type Point } from "../characteristic/index.js";
import { band } from "../grading/index.js";
import type { Edge, Still } from "./definition.js";
import {
  atRestraint,
  fromOneSide,
  through,
  withSecondHarmonic,
  zeroSequence,
  zeroSequenceAlone,
} from "./differential-poses.js";
import { regionOf, restraintAlone, startsAlone } from "./differential-region.js";
import type { Zone } from "./differential-setting.js";
import { comparedOn, isWithoutZero, type SideName } from "./differential-zone.js";
import { earthFaultOutside } from "./earth-fault-outside.js";
import type { RelayInputs } from "./inputs.js";
import type { DifferentialSetting } from "./setting.js";
import type { Setup } from "./setup.js";

/** As a person sets it: a restraint in three digits. */
const inThreeDigits = (x: number): number => Number(x.toPrecision(3));

/** 0.525 A, and not 0.5249999999999999 A, which is what a slope comes to in doubles. */
const withoutNoise = (x: number): number => Number(x.toPrecision(14));

/**
 * At which restraints the characteristic is proved: amid each piece of it, and twice on the last slope, since one point
 * cannot tell a line through the origin from one that goes on from a knee.
 */
function restraintsOf(setting: DifferentialSetting): number[] {
  const region = regionOf(setting);
  // Below this there is no point: one side alone restrains that much already.
  const least = restraintAlone(setting) * setting.pickup;
  const all: readonly Point[] = [{ x: 0, y: setting.pickup }, ...region.points];
  // Where a slope through the origin begins before it passes the pickup there is no bend.
  const points = all.filter(({ y }, i) => i === 0 || y !== all[i - 1]?.y || y !== all[i + 1]?.y);
  const amid = points.slice(1).flatMap(({ x }, i) => {
    const from = Math.max(least, (points[i] as Point).x);
    // With less room than this there is nothing to sweep.
    return x > 1.2 * from ? [(from + x) / 2] : [];
  });
  const last = Math.max(BEYOND * (points.at(-1) as Point).x, setting.zone.first.ratedCurrent, 2 * least);
  return [...new Set([...amid, last, FURTHER * last].map(inThreeDigits))];
}

/** How far beyond its beginning the last slope is proved, and how much further once more: as far as sources reach. */
const BEYOND = 1.25;
const FURTHER = 1.6;

const AROUND = 0.1;

/** The most that a sweep may come to beyond a place: what practice says, or twice the tolerance, and a step. */
function sweptTo(at: number, { accuracy }: DifferentialSetting): number {
  const { nominal, low = nominal, high = nominal } = band(at, accuracy.pickup);
  return at + 1.25 * Math.max(AROUND * at, 2 * (high - nominal), 2 * (nominal - low));
}

/** How far above the pickup the second harmonic is weighed, and how much of the ratio surely blocks. */
const ABOVE = 2;
const SURELY = 1.5;

/** The characteristic at several restraints, and the second harmonic that just blocks. */
export function edges(setting: DifferentialSetting, setup: Setup): Edge[] {
  const region = regionOf(setting);
  const onTheLine = restraintsOf(setting).map((x, i): Edge => {
    const at = withoutNoise(heightAt(region, x));
    return {
      ...COMMON,
      name: `restraint-${i + 1}`,
      at,
      pose: atRestraint(x, sweptTo(at, setting), setting, setup),
      movesWith: (inputs) => aboveLine(inputs, setting),
    };
  });
  const { secondHarmonic, pickup } = setting;
  const other = secondSide(pickup, fromOneSide("second", setting, setup));
  const all = [...onTheLine, other, ...zeroSequences(setting, setup)];
  if (secondHarmonic === undefined) return all;
  const at = ABOVE * pickup;
  // Above the place the same harmonic is a smaller share of the fundamental, and no longer blocks.
  const pose = withSecondHarmonic(secondHarmonic * ABOVE * (startsAlone(setting) ?? pickup), setting, setup);
  const told = `which stays, and is ${secondHarmonic} × the fundamental where it stops blocking`;
  const noted = pose.kind === "none" ? pose : { ...pose, note: `${pose.note}, ${told}` };
  return [...all, { ...COMMON, name: "second-harmonic", at, pose: noted }];
}

/** How far the phase with most differential current is above the characteristic: what restrains more moves its start too. */
function aboveLine(inputs: RelayInputs, setting: DifferentialSetting): number {
  const places = comparedOn(inputs, setting.zone).map((pair) => differentialPoint(pair, setting.restraint));
  const { x, y } = places.reduce((most, place) => (place.y > most.y ? place : most));
  return y - heightAt(regionOf(setting), x);
}

const COMMON = { unit: "A", side: "over", around: { ratio: AROUND }, heldTo: "pickup" } as const;

/** The second side alone starts it as the first does, through its own transformers and what turns its currents. */
export const secondSide = (at: number, pose: Edge["pose"]): Edge => ({ ...COMMON, name: "second-side", at, pose });

const SIDES = ["first", "second"] as const;
const numbered = (name: string, side: SideName): string => (side === "first" ? name : `${name}-2`);

/** Zero sequence of a side that keeps it operates as any other current does; without a transformer nothing takes it out. */
function zeroSequences(setting: DifferentialSetting, setup: Setup): Edge[] {
  const { zone, pickup, function: name } = setting;
  if (name === "87") return [];
  const kept = SIDES.filter((side) => !isWithoutZero(zone[side]));
  return kept.map((side) => ({
    ...COMMON,
    name: numbered("zero-sequence", side),
    at: pickup,
    pose: zeroSequenceAlone(side, setting, setup),
  }));
}

/** A fault outside: nothing of it is differential current. */
export const throughFault = (zone: Zone, setup: Setup, level: number): Still => ({
  name: "through-fault",
  level,
  why: "a fault outside, whose current passes through",
  pose: through(zone, setup),
});

/** How many times rated a fault outside is taken: enough for the last slope, and for a source to make. */
const OUTSIDE = 3;

/** Load and faults outside, zero sequence that does not count, and an inrush. */
export function stills(setting: DifferentialSetting, setup: Setup): Still[] {
  const { zone, pickup, secondHarmonic } = setting;
  const rated = zone.first.ratedCurrent;
  const load = {
    name: "through-load",
    level: rated,
    why: "rated load, which passes through",
    pose: through(zone, setup),
  };
  const level = Math.max(rated, ABOVE * pickup);
  const removed = SIDES.filter((side) => isWithoutZero(zone[side])).flatMap((side) => [
    {
      name: numbered("zero-sequence", side),
      level,
      why: `zero sequence of the ${side} side, as of an earth fault outside, is taken out`,
      pose: zeroSequence(side, zone, setup),
    },
    {
      name: numbered("earth-fault", side),
      // A third of it is zero sequence, which would surely operate it.
      level: Math.max(OUTSIDE * rated, 3 * ABOVE * pickup),
      why: `an earth fault outside on the ${side} side, which passes through but for its zero sequence`,
      pose: earthFaultOutside(side, zone, setup),
    },
  ]);
  const all = [load, throughFault(zone, setup, OUTSIDE * rated), ...removed];
  if (secondHarmonic === undefined) return all;
  const harmonic = SURELY * secondHarmonic * ABOVE * (startsAlone(setting) ?? pickup);
  const inrush = {
    name: "second-harmonic",
    level: ABOVE * pickup,
    why: `${ABOVE} × the setting with ${SURELY} × the second harmonic that blocks`,
    pose: withSecondHarmonic(harmonic, setting, setup),
  };
  return [...all, inrush];
}
