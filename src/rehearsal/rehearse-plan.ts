import { fail, finite, list, nameIn, object, text } from "../base/check.js";
import { decimal, toNumber } from "../base/exact.js";
import { readEach } from "../base/read-each.js";
import type { Timeline } from "../base/sequence.js";
import { levelPlaces } from "../base/states.js";
import type { ElementSetting } from "../element/index.js";
import { type Sheet, settingsOf } from "../sheet/index.js";
import { checkOptions, type RehearsalOptions } from "./errors.js";
import { type Rehearsal, rehearse, seedOf } from "./rehearse.js";
import { slopes } from "./source.js";

/** What a rehearsal needs to know of a check; a `Check` of a plan is one. */
export interface RehearsedCheck {
  readonly id: string;
  readonly element: string;
  readonly proves: "pickup" | "edge" | "dropout" | "operate-time" | "no-operation";
  readonly contact: string;
  readonly timeline: Timeline;
  /** How its level moves: in steps, or without a step evenly along the one state that moves. */
  readonly sweep?: {
    readonly from: number;
    readonly to: number;
    readonly step?: number;
    readonly rest?: object;
    readonly preFault?: number;
  };
  /** Elements that are blocked for it. */
  readonly block: readonly string[];
}

/** What a rehearsal needs to know of a plan. */
export interface RehearsedPlan {
  readonly checks: readonly RehearsedCheck[];
}

/** A reading as a person would have taken it; a `Reading` of a record. */
export interface RehearsedReading {
  readonly check: string;
  readonly stage: "as-found";
  readonly repeat: 1;
  readonly value: number | "never" | "operated";
  readonly contact?: string;
  /** Which element made the contact move. */
  readonly operatedBy?: string;
}

/**
 * What would be read in every check of a plan, if the relay had the settings of the sheet and these errors. Elements that a
 * check blocks stay out of it; all others take part, so that a faster neighbour shows.
 *
 * @param sheet - From `readSheet`.
 * @param plan - From `plan`, or anything of its shape.
 * @param given - As for {@link rehearse}; each check scatters by itself.
 * @throws A {@link InputError} for a sheet that is not good, checks of elements that it does not have, and as
 * {@link rehearse} does.
 * Accuracy: that of {@link rehearse}.
 * @source as {@link rehearse}
 *
 * @example
 * import { plan, readSheet } from "tripwright/plan";
 * import { judge } from "tripwright/record";
 * import { rehearsePlan } from "tripwright/rehearsal";
 * const accuracy = { pickup: { percent: 5 }, time: { percent: 5, absolute: "40 ms" } };
 * const sheet = readSheet({
 *   format: "tripwright/sheet@1", substation: "Corriedale Junction", feeder: "Tannery Lane", relay: "F12",
 *   frequency: "50 Hz", values: "secondary", ct: "400/5",
 *   elements: [{ id: "51P", function: "51", pickup: "4 A", curve: "iec-inverse", multiplier: 0.2, startContact: "start", accuracy }],
 * });
 * const planned = plan(sheet);
 * const readings = rehearsePlan(sheet, planned, { errors: { "51P": { time: 1.2 } } });
 * const { verdicts } = judge(sheet, planned, readings);
 * const outcomes = verdicts.map((verdict) => verdict.status === "graded" ? verdict.grade.verdict : verdict.status);
 * outcomes; // → ["within", "within", "outside", "outside", "outside", "impossible"]
 */
export function rehearsePlan(sheet: Sheet, plan: RehearsedPlan, given: RehearsalOptions = {}): RehearsedReading[] {
  const { elements } = settingsOf(sheet);
  checkOptions(given, elements);
  const { checks } = object(plan, "plan", "a plan { checks }");
  return readEach(checks, "plan.checks", "a list of checks", (check) =>
    readingOf(checkCheck(check, elements), elements, given),
  );
}

type Sweep = NonNullable<RehearsedCheck["sweep"]>;

const PROVES = { pickup: 1, edge: 1, dropout: 1, "operate-time": 1, "no-operation": 1 } as const;

function checkCheck(check: RehearsedCheck, elements: readonly ElementSetting[]): RehearsedCheck {
  const { id, element, proves, contact, block } = object(check, "", "a check such as one of a plan");
  text(id, "id", "the name of a check");
  nameIn(proves, PROVES, "proves");
  text(contact, "contact", "the name of a contact");
  list(block, "block", "a list of elements to be blocked");
  if (!elements.some((one) => one.id === element)) fail("unknown-name", "element", "an element of the sheet", element);
  return check;
}

function readingOf(
  check: RehearsedCheck,
  elements: readonly ElementSetting[],
  { errors = {}, seed }: RehearsalOptions,
): RehearsedReading {
  const taking = elements.filter(({ id }) => !check.block.includes(id));
  const own = Object.fromEntries(Object.entries(errors).filter(([id]) => taking.some((element) => element.id === id)));
  const rehearsal = rehearse(taking, check.timeline, {
    errors: own,
    ...(seed !== undefined && { seed: seedOf(check.id, seed) }),
  });
  const key = { check: check.id, stage: "as-found", repeat: 1 } as const;
  const event = awaited(check, rehearsal);
  if (event === undefined) return { ...key, value: "never" };
  return { ...key, value: valueAt(event.at, check, rehearsal), contact: event.contact, operatedBy: event.element };
}

/** When the clock starts, counted from the start of the sequence. */
function clockStart({ segments }: Timeline, { stateEnds }: Rehearsal): number {
  const index = segments.findIndex(({ clock }) => clock === "starts");
  return index <= 0 ? 0 : (stateEnds[index - 1] as number);
}

/** The change of the watched contact that the check waits for. */
function awaited({ proves, contact, timeline }: RehearsedCheck, rehearsal: Rehearsal) {
  const own = rehearsal.events.filter((event) => event.contact === contact);
  if (proves === "dropout") return own.find(({ to }) => to === "open");
  const start = clockStart(timeline, rehearsal);
  const closing = own.find(({ at, to }) => to === "closed" && at >= start);
  // One that stood closed already has not stayed quiet either.
  const standing = own.findLast(({ at }) => at < start);
  return closing ?? (proves === "no-operation" && standing?.to === "closed" ? standing : undefined);
}

function valueAt(at: number, check: RehearsedCheck, rehearsal: Rehearsal): RehearsedReading["value"] {
  if (check.proves === "no-operation") return "operated";
  // Twelve digits, as no timer has them: the rounding of instants must not put a reading beside the limit it is on.
  if (check.proves === "operate-time") return Number((at - clockStart(check.timeline, rehearsal)).toPrecision(12));
  return levelAt(at, check, rehearsal);
}

/** The level that stood at an instant; before the first one that one, and at rest the one that stood before. */
function levelAt(at: number, { sweep, timeline }: RehearsedCheck, { stateEnds }: Rehearsal): number {
  const { from, to, step } = object(sweep as Sweep, "sweep", "how the level moves { from, to, step }");
  finite(from, "sweep.from", "a level");
  finite(to, "sweep.to", "a level");
  const index = stateEnds.findIndex((end) => at < end);
  const state = index === -1 ? stateEnds.length - 1 : index;
  if (step === undefined) return alongRamp(at, { from, to, timeline, stateEnds });
  const { first, every } = levelPlaces(sweep as Sweep);
  const passed = Math.max(0, Math.floor((state - first) / every));
  const moved = decimal(step, "sweep.step").times(passed * Math.sign(to - from));
  const level = toNumber(decimal(from, "sweep.from").plus(moved), "sweep");
  return to > from ? Math.min(level, to) : Math.max(level, to);
}

/** The level along the state that moves, as far as it had come; twelve digits, as of a time. */
function alongRamp(
  at: number,
  { from, to, timeline, stateEnds }: { from: number; to: number; timeline: Timeline; stateEnds: readonly number[] },
): number {
  const state = timeline.segments.findIndex((segment) => slopes(segment, timeline.wiring));
  const duration = timeline.segments[state]?.duration;
  if (duration === undefined)
    return fail("missing", "sweep.step", "a step, or a state in which the level moves", undefined);
  const share = (at - (stateEnds[state - 1] ?? 0)) / duration;
  return Number((from + (to - from) * Math.min(1, Math.max(0, share))).toPrecision(12));
}
