import type { Answer } from "../base/answer.js";
import { type Decimal, toNumber } from "../base/exact.js";
import type { Seconds } from "../base/units.js";
import { written } from "../base/written.js";
import type { Definition, Distance, Edge, ElementSetting, LevelUnit } from "../element/index.js";
import type { RelaySettings } from "../sheet/index.js";
import { beyondSource } from "./beyond-source.js";
import { heats } from "./cautions.js";
import type { Check } from "./check.js";
import { checkOf } from "./check-of.js";
import type { Expectation } from "./expect.js";
import { runsAway, seenAt, startContactCaution, watchedContact, whyNotSwept } from "./injected.js";
import { movedThrough, type Posed, preFaultOf } from "./posed.js";
import { isStartedBy } from "./started.js";
import {
  asPlanned,
  MOST_STEPS,
  movementThrough,
  type PlannedSweep,
  piecesOf,
  REST,
  startShows,
  stepsAround,
  sweepBetween,
  whyUnheld,
} from "./sweep.js";

/** Nobody waits longer than this at each level for something that comes and goes. */
const LONGEST_HOLD: Seconds = 120;

/** Where a level is to pass into the region in which a function operates. */
export interface Crossing {
  /** Behind the name of the element: `pickup`, `edge@leading`. */
  readonly name: string;
  readonly proves: "pickup" | "edge";
  readonly edge?: string;
  readonly unit: LevelUnit;
  readonly side: Definition["side"];
  readonly at: Decimal;
  /** How far before that practice begins, and how far behind it ends. */
  readonly around: Distance;
  readonly expected: Expectation;
  readonly posed: Posed;
  /** How long a level has to stand at the least. */
  readonly waits?: Edge["waits"];
  /** Each step begins from the healthy system. */
  readonly fromRest: boolean;
}

/**
 * A sweep from where the function is quiet through its start: steps no wider than a fifth of the tolerance, each held
 * longer than the function takes to respond.
 */
export function crossingCheck(
  crossing: Crossing,
  element: ElementSetting,
  settings: RelaySettings,
): Answer<{ check: Check }, string> {
  const none = (reason: string) => ({ kind: "none", reason }) as const;
  const notSwept = whyNotSwept(element) ?? whyUnheld(crossing.expected.band);
  if (notSwept !== undefined) return none(notSwept);
  const swept = sweepOf(crossing, element, settings);
  if (swept.kind === "none") return swept;
  const { sweep } = swept;
  const { name, edge, unit, posed, proves, expected } = crossing;
  const tooFar = runsAway(element, sweep, settings);
  if (tooFar !== undefined) return none(tooFar);
  const timeline = movedThrough(piecesOf(sweep), posed);
  const tooMuch = beyondSource(timeline, settings);
  if (tooMuch !== undefined) return none(tooMuch);
  const startsAt = (level: number) => isStartedBy(element, seenAt(level, posed));
  if (startsAt(sweep.from))
    return none(`already operates at ${written(sweep.from, unit)}, where the sweep would have to begin`);
  if (!startsAt(sweep.to)) return none(`is blocked at ${written(sweep.to, unit)}, where the sweep would have to end`);
  const { band, rule, numbers } = expected;
  const proof = {
    name,
    ...(edge !== undefined && { edge }),
    proves,
    contact: watchedContact(element),
    timeline,
    unit,
    sweep: asPlanned(sweep),
    posed,
    expect: { form: "band", unit, band },
    because: { rule, numbers },
    cautions: startContactCaution(element),
  } as const;
  return { kind: "found", check: checkOf(proof, element, settings) };
}

/** The sweep in exact decimals, so that the place itself is one of its levels. */
function sweepOf(
  { at, unit, side, around, expected, posed, fromRest, proves, waits }: Crossing,
  element: ElementSetting,
  settings: RelaySettings,
): Answer<{ sweep: PlannedSweep }, string> {
  const movement = movementThrough(expected.band, startShows(element));
  const { half, step, hold } = movement;
  const steps = stepsAround(around, { at, unit }, movement);
  if (steps.gt(MOST_STEPS)) {
    return {
      kind: "none",
      reason: `a tolerance of ${written(half.toString(), unit)} asks for steps of ${written(step.toString(), unit)}, more than ${2 * MOST_STEPS} of them`,
    };
  }
  const [below, above] = [at.minus(step.times(steps)), at.plus(step.times(steps))];
  const [from, to] = side === "over" ? [below, above] : [above, below];
  // An edge stands on currents that do not rest: those that restrain, beside a level that may be small.
  const rests = fromRest || (proves === "pickup" && unit === "A" && heats(toNumber(to, "pickup"), settings));
  const rest = rests ? { rest: { level: posed.healthyLevel, time: REST } } : {};
  const last = toNumber(to, "to");
  const stands = waits === undefined ? hold : Math.max(hold, waits(last));
  if (stands > LONGEST_HOLD)
    return {
      kind: "none",
      reason: `at ${written(last, unit)} a level would have to stand for more than ${LONGEST_HOLD} s`,
    };
  return { kind: "found", sweep: sweepBetween({ from, to, step }, { hold: stands, ...rest, ...preFaultOf(posed) }) };
}
