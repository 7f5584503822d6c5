/** Where one channel of a source is asked for more than its limits. */
import { MOVED } from "../base/check-channel.js";
import { countSteps, type Decimal, decimal, isBelow } from "../base/exact.js";
import type { Channel } from "../base/sequence.js";
import { type Course, scaled, ZERO } from "./course.js";
import type { Driven } from "./driven-states.js";
import { crests, frequencies, isTyped, meanSquare } from "./signal.js";
import type { ReadDuty, ReadLimits } from "./source-limits.js";
import { joined, type Stretch, stretchesAbove } from "./stretches.js";

/** One exceedance in exact decimals. */
export interface Found {
  readonly limit: SourceLimit;
  readonly index: number;
  readonly from: Decimal;
  readonly lasts: Decimal;
  readonly amount: Decimal;
  readonly allowed: Decimal;
  readonly unit: Unit;
  /** Of a duty: the level that it is about. */
  readonly above?: Decimal;
}

type Unit = "A" | "V" | "VA" | "Hz" | "°" | "s";

/** A limit by the path where it stands among the limits. */
export type SourceLimit =
  | "rms"
  | "peak"
  | "power"
  | "compliance"
  | "duty"
  | "frequency"
  | "resolution.rms"
  | "resolution.frequency"
  | "resolution.angle";

/** All exceedances of a channel, limit by limit. */
export function beyondLimits(states: readonly Driven[], limits: ReadLimits, quantity: Channel["quantity"]): Found[] {
  const unit = quantity === "current" ? "A" : "V";
  const [ofSquare, duties] = [squareLimits(limits, quantity), limits.duty ?? []];
  // A channel without a limit of this kind need not be squared.
  const squared = ofSquare.length + duties.length > 0 ? states : [];
  const squares = squared.map((state) => ({
    ...state,
    course: meanSquare(state.drives),
    typed: isTyped(state.drives),
  }));
  const above = (level: Decimal) => squares.flatMap((stage) => stretchesAbove(stage, level));
  return [
    ...ofSquare.flatMap(({ level, amountOf, ...same }) =>
      joined(above(level)).map((stretch) => found(stretch, { ...same, amount: amountOf(stretch.worst) })),
    ),
    ...(limits.peak === undefined ? [] : beyondPeak(states, { peak: limits.peak, unit })),
    ...duties.flatMap((duty) => beyondDuty(above(duty.above.pow(2)), duty)),
    ...(limits.frequency === undefined ? [] : beyondFrequency(states, limits.frequency)),
    ...MOVED.flatMap((name) => {
      const step = limits.resolution?.[name];
      return step === undefined ? [] : betweenSteps(states, { name, step, unit: STEP_UNIT[name] ?? unit });
    }),
  ];
}

const STEP_UNIT = { rms: undefined, frequency: "Hz", angle: "°" } as const;

const found = (
  { index, from, to }: Pick<Stretch, "index" | "from" | "to">,
  what: Omit<Found, "index" | "from" | "lasts">,
): Found => ({ index, from, lasts: to.minus(from), ...what });

/** A limit as a level of the mean square, and the amount that a mean square stands for. */
interface SquareLimit {
  readonly limit: SourceLimit;
  readonly level: Decimal;
  readonly amountOf: (square: Decimal) => Decimal;
  readonly allowed: Decimal;
  readonly unit: Unit;
}

function squareLimits({ rms, power, burden, compliance }: ReadLimits, quantity: Channel["quantity"]): SquareLimit[] {
  const all: SquareLimit[] = [];
  const unit = quantity === "current" ? "A" : "V";
  if (rms !== undefined) all.push({ limit: "rms", level: rms.pow(2), amountOf: root, allowed: rms, unit });
  if (burden === undefined) return all;
  if (power !== undefined) {
    // A current I puts I² · burden into it, a voltage V puts V²/burden.
    const share = quantity === "current" ? burden : decimal(1, "").div(burden);
    const amountOf = (square: Decimal) => square.times(share);
    all.push({ limit: "power", level: power.div(share), amountOf, allowed: power, unit: "VA" });
  }
  if (compliance !== undefined && quantity === "current") {
    const amountOf = (square: Decimal) => root(square).times(burden);
    all.push({ limit: "compliance", level: compliance.div(burden).pow(2), amountOf, allowed: compliance, unit: "V" });
  }
  return all;
}

const root = (square: Decimal): Decimal => square.sqrt();

function beyondPeak(states: readonly Driven[], { peak, unit }: { peak: Decimal; unit: Unit }): Found[] {
  const stretches = states.flatMap((state) =>
    crests(state.drives, state.duration)
      .flatMap((course) => stretchesAbove({ ...state, course, typed: false }, peak))
      .sort((a, b) => a.from.cmp(b.from)),
  );
  return joined(stretches).map((stretch) =>
    found(stretch, { limit: "peak", amount: stretch.worst, allowed: peak, unit }),
  );
}

/** Time above the level adds up until a pause is long enough. */
function beyondDuty(stretches: readonly Stretch[], { above, atMost, restTime }: ReadDuty): Found[] {
  const all: Found[] = [];
  let [spent, last, isBeyond] = [ZERO, ZERO, false];
  for (const { index, from, to } of stretches) {
    if (isBelow(last, from) && !isBelow(from.minus(last), restTime)) [spent, isBeyond] = [ZERO, false];
    const start = from.plus(atMost.minus(spent));
    [spent, last] = [spent.plus(to.minus(from)), to];
    if (!isBelow(atMost, spent)) continue;
    const first = isBeyond ? (all.pop() as Found) : { index, from: start };
    isBeyond = true;
    const lasts = spent.minus(atMost);
    all.push({ ...first, lasts, limit: "duty", amount: spent, allowed: atMost, unit: "s", above });
  }
  return all;
}

function beyondFrequency(
  states: readonly Driven[],
  { minimum, maximum }: NonNullable<ReadLimits["frequency"]>,
): Found[] {
  const beyond = (side: "lowest" | "highest", sign: Decimal, allowed: Decimal) => {
    const stretches = states.flatMap((state) => {
      const course: Course | undefined = state.drives.map((drive) => frequencies(drive)?.[side])[0];
      if (course === undefined) return [];
      const typed = state.drives.every(({ state: { slope = {} } }) => !slope.frequency && !slope.angle);
      return stretchesAbove({ ...state, course: scaled(course, sign), typed }, allowed.times(sign));
    });
    return joined(stretches).map((stretch) =>
      found(stretch, { limit: "frequency", amount: stretch.worst.times(sign), allowed, unit: "Hz" }),
    );
  };
  return [...beyond("lowest", decimal(-1, ""), minimum), ...beyond("highest", decimal(1, ""), maximum)];
}

interface Step {
  readonly name: (typeof MOVED)[number];
  readonly step: Decimal;
  readonly unit: Unit;
}

/**
 * What is put out and stands still must stand on the grid; a value that is held through several states is told once.
 */
function betweenSteps(states: readonly Driven[], { name, step, unit }: Step): Found[] {
  const all: Found[] = [];
  for (const { start, duration, index, drives } of states) {
    const [drive] = drives;
    if (drive === undefined || frequencies(drive) === undefined) continue;
    const { state } = drive;
    if ((state.slope?.[name] ?? 0) !== 0) continue;
    const value = decimal(state[name] ?? 0, name);
    if (countSteps(value.abs(), step).even) continue;
    const last = all.at(-1);
    if (last?.amount.eq(value) && !isBelow(last.from.plus(last.lasts), start)) {
      all[all.length - 1] = { ...last, lasts: last.lasts.plus(duration) };
      continue;
    }
    const allowed = value.div(step).round().times(step);
    all.push({ limit: `resolution.${name}`, index, from: start, lasts: duration, amount: value, allowed, unit });
  }
  return all;
}
