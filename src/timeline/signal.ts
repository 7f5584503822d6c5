/** What channels make together during one state: its mean square, its crests, its d.c. component. */
import { cosDegrees } from "../base/degrees.js";
import { type Decimal, decimal } from "../base/exact.js";
import type { ChannelState } from "../base/sequence.js";
import type { Degrees } from "../base/units.js";
import { turn } from "./channel-phase.js";
import { type Course, courseAt, polynomial, product, scaled, tidied, ZERO } from "./course.js";

/** A channel that is on, by what factor it counts, and how far it had turned when the state began. */
export interface Drive {
  readonly state: ChannelState;
  readonly factor: Decimal;
  readonly cycles: Decimal;
}

/** One cosine: its rms value runs from `level` evenly by `rise` per second. */
interface Part {
  readonly frequency: Decimal;
  readonly sweep: Decimal;
  readonly phase: Degrees;
  readonly level: Decimal;
  readonly rise: Decimal;
}

/** The parts of a channel that are not zero, from its lowest order up; those of frequency 0 are among them. */
function partsOf({ state, factor, cycles }: Drive): readonly Part[] {
  const { harmonics = [], slope = {} } = state;
  const frequency = decimal(state.frequency, "frequency");
  const sweep = decimal(slope.frequency ?? 0, "slope.frequency");
  // An angle that moves evenly is a frequency too.
  const fundamental: Part = {
    frequency: frequency.plus(decimal(slope.angle ?? 0, "slope.angle").div(360)),
    sweep,
    phase: turn(cycles, state.angle ?? 0),
    level: factor.times(decimal(state.rms, "rms")),
    rise: factor.times(decimal(slope.rms ?? 0, "slope.rms")),
  };
  const others = [...harmonics]
    .sort((a, b) => a.order - b.order)
    .map(
      ({ order, rms, angle = 0 }): Part => ({
        frequency: frequency.times(order),
        sweep: sweep.times(order),
        phase: turn(cycles.times(order), angle),
        level: factor.times(decimal(rms, "rms")),
        rise: ZERO,
      }),
    );
  return [fundamental, ...others].filter(({ level, rise }) => !level.isZero() || !rise.isZero());
}

const isDirect = ({ frequency, sweep }: Part): boolean => frequency.isZero() && sweep.isZero();

/** The alternating parts, those of one frequency together: they add as arrows. */
function groupsOf(drives: readonly Drive[]): readonly (readonly Part[])[] {
  const groups: Part[][] = [];
  for (const part of drives.flatMap(partsOf)) {
    if (isDirect(part)) continue;
    const group = groups.find(([first]) => first?.frequency.eq(part.frequency) && first.sweep.eq(part.sweep));
    if (group === undefined) groups.push([part]);
    else group.push(part);
  }
  return groups;
}

/** The d.c. component: offsets, decaying parts, and cosines of frequency 0 as they stand. */
function directOf(drives: readonly Drive[]): Course {
  const given = drives.flatMap(({ state: { offset = 0, decay }, factor }) => [
    ...polynomial(decimal(offset, "offset").times(factor)),
    ...(decay === undefined
      ? []
      : [
          {
            rate: decimal(1, "").div(decimal(decay.tau, "decay.tau")),
            powers: [decimal(decay.initial, "decay.initial").times(factor)],
          },
        ]),
  ]);
  const standing = drives.flatMap(partsOf).filter(isDirect);
  return tidied([
    ...given,
    ...standing.flatMap(({ level, rise, phase }) => scaled(polynomial(level, rise), crest().times(cosine(phase)))),
  ]);
}

const crest = (): Decimal => decimal(2, "").sqrt();
const cosine = (angle: Degrees): Decimal => decimal(cosDegrees(angle), "angle");

/** The square of the rms value of parts of one frequency: |Σ (level + rise · t) ∠ phase|². */
const squareOfGroup = (group: readonly Part[]): Course =>
  tidied(
    group.flatMap((a) =>
      group.flatMap((b) =>
        scaled(product(polynomial(a.level, a.rise), polynomial(b.level, b.rise)), cosine(a.phase - b.phase)),
      ),
    ),
  );

/** One cosine and nothing beside it, whose phase does not matter: what nearly every channel puts out. */
const isPlain = ({ state: { frequency, harmonics = [], offset = 0, decay, slope = {} } }: Drive): boolean =>
  frequency > 0 && harmonics.length === 0 && offset === 0 && decay === undefined && (slope.angle ?? 0) === 0;

function squareOfPlain({ state: { rms, slope = {} }, factor }: Drive): Course {
  const level = polynomial(factor.times(decimal(rms, "rms")), factor.times(decimal(slope.rms ?? 0, "slope.rms")));
  return product(level, level);
}

/** The mean square over the cycles around an instant: the squares of all frequencies, and that of the d.c. component. */
export function meanSquare(drives: readonly Drive[]): Course {
  const [alone, ...others] = drives;
  if (alone !== undefined && others.length === 0 && isPlain(alone)) return squareOfPlain(alone);
  const direct = directOf(drives);
  return tidied([...groupsOf(drives).flatMap(squareOfGroup), ...product(direct, direct)]);
}

/**
 * The highest instantaneous values in either direction: crests of all frequencies added whatever their phases, and the
 * d.c. component. A bound where there are several frequencies, or channels of different phase that move.
 */
export function crests(drives: readonly Drive[], duration: Decimal): readonly Course[] {
  const direct = directOf(drives);
  const alternating = groupsOf(drives).flatMap((group) => {
    const square = squareOfGroup(group);
    // The size of a sum of arrows that move evenly never bulges above the line between its ends.
    const [from, to] = [courseAt(square, ZERO).abs().sqrt(), courseAt(square, duration).abs().sqrt()];
    return scaled(polynomial(from, to.minus(from).div(duration)), crest());
  });
  const signs = direct.length === 0 ? [1] : [1, -1];
  return signs.map((sign) => tidied([...alternating, ...scaled(direct, decimal(sign, ""))]));
}

/** The lowest and the highest frequency of the alternating parts of a channel; absent where there are none. */
export function frequencies(drive: Drive): { readonly lowest: Course; readonly highest: Course } | undefined {
  const parts = partsOf(drive);
  const courses = parts.map(({ frequency, sweep }) => polynomial(frequency, sweep));
  const [lowest, highest] = [courses[0], courses.at(-1)];
  return lowest === undefined || highest === undefined ? undefined : { lowest, highest };
}

/** Whether a mean square is made of what a person typed alone: one channel whose rms value stands still, and which turns as typed. */
export const isTyped = (drives: readonly Drive[]): boolean =>
  drives.length < 2 &&
  drives.every(({ state: { slope = {}, decay, frequency } }) => {
    const { rms = 0, angle = 0 } = slope;
    return rms === 0 && angle === 0 && decay === undefined && frequency > 0;
  });
