import type { Answer } from "../base/answer.js";
import { fail, finite, object, options } from "../base/check.js";
import { InputError } from "../base/input-error.js";
import { onOwnData } from "../base/own-data.js";
import { unitOfReading } from "../base/reading-unit.js";
import { plain, written } from "../base/written.js";
import { definitionOf, type ElementSetting } from "../element/index.js";
import {
  type Check,
  type Plan,
  plan as planOf,
  type RelaySettings,
  type Sheet,
  type SheetSource,
  settingsOf,
  timedAt,
} from "../plan/index.js";
import type { Explanation, ReadingKey } from "../record/index.js";
import { CAUSES } from "./causes.js";
import { inWords } from "./in-words.js";
import type { Predicted } from "./predict.js";
import { type Rival, type Separation, separationBy } from "./separation.js";
import { type Situation, situationOf } from "./situation.js";
import { allowedAt, type Taken } from "./taken.js";

/** The bench at which the next injection would be made. */
export interface NextBench {
  readonly sheet: Sheet;
  /** The source at hand. Default: that of the sheet. */
  readonly source?: SheetSource;
  /** The plan of the sheet, where it is at hand: it saves making it again. Not together with a source. */
  readonly plan?: Plan;
}

/** What one explanation lets expect. */
export interface ExpectedReading {
  readonly cause: Explanation["cause"];
  readonly which?: string;
  readonly predicted: number | "never" | "operated";
}

/** An injection that tells explanations apart. */
export interface NextInjection extends ReadingKey {
  /** One of the plan, or the time of the element at another level. */
  readonly injection: Check;
  readonly expected: readonly ExpectedReading[];
  /** The largest difference between two of them, in standard uncertainties of the reading; at most 6 is counted. */
  readonly difference: number;
  /** How many pairs of explanations it sets apart by three standard uncertainties or more, of how many. */
  readonly apart: number;
  readonly pairs: number;
  /** In words. */
  readonly says: string;
}

/**
 * Why there is no injection to propose.
 *
 * - `nothing-to-separate`: fewer than two explanations lead
 * - `no-injection-tells`: whatever this source can make, they would read the same within two standard uncertainties
 */
export type NoInjection = "nothing-to-separate" | "no-injection-tells";

const APART = 3;
const LEAST = 2;
/** What is planned, and of the element itself, stands first: another injection has to tell clearly more. */
const MUCH = 1.1;

/** At which multiples an element may be timed beside the plan; the last one below where a level may block it just below its setting. */
const LADDERS = { over: [1.5, 2, 3, 4, 5, 7, 10, 15, 20, 30], under: [0.9, 0.7, 0.5, 0.3, 0.1, 0.95] } as const;

/**
 * The one injection, among those that the source can make, that best separates the leading explanations of the first
 * element that has several: a check of the plan, of any element, or the time of this element at another multiple. Best is
 * where the sum over all pairs of the squared differences is largest, each in units of the reading's standard uncertainty
 * and counted up to 6; where an estimate stands for a range, the mean of that over the range. Of a check that was made before only what
 * changes from repeat to repeat counts. What is planned comes first: another injection has to tell a tenth more.
 *
 * @param explanations - From `explain`.
 * @throws A {@link InputError} for explanations of another sheet, a sheet that is not good, and a plan beside a source.
 * Accuracy: that of the estimates in the explanations; their own uncertainty is not counted.
 * @source design of this library
 *
 * @example
 * import { explain, nextInjection } from "tripwright/explain";
 * import { plan, readSheet } from "tripwright/plan";
 * import { judge } from "tripwright/record";
 * const accuracy = { pickup: { percent: 5 }, time: { percent: 5, absolute: "40 ms" } };
 * const sheet = readSheet({
 *   format: "tripwright/sheet@1", substation: "Corriedale Junction", feeder: "Tannery Lane", relay: "F12",
 *   frequency: "50 Hz", values: "secondary", ct: "400/5", source: { maximumCurrent: "50 A" },
 *   elements: [{ id: "51P", function: "51", pickup: "4 A", curve: "iec-inverse", multiplier: 0.2, startContact: "start", accuracy }],
 * });
 * const planned = plan(sheet);
 * const read = (check: string, value: number) => ({ check, value, stage: "as-found", repeat: 1 }) as const;
 * const explanations = explain(judge(sheet, planned, [read("51P/pickup", 4.02), read("51P/time@3", 1.424)]));
 * explanations.filter(({ leading }) => leading).length > 1; // → true
 * const next = nextInjection(explanations, { sheet, plan: planned });
 * next.kind === "found" && next.check; // → "51P/time@7"
 */
export function nextInjection(
  explanations: readonly Explanation[],
  bench: NextBench,
): Answer<NextInjection, NoInjection> {
  if (!Array.isArray(explanations)) fail("wrong-type", "explanations", "a list, as `explain` makes it", explanations);
  const { sheet: given, source, plan: made } = options(bench, ["sheet", "source", "plan"]);
  object(given, "sheet", "a setting sheet");
  if (source !== undefined && made !== undefined) fail("conflict", "plan", "no plan beside another source", "a plan");
  const sheet: Sheet = source === undefined ? given : { ...given, source };
  const settings = settingsOf(sheet);
  return onOwnData("explanations", "a list, as `explain` makes it, with its plan", () => {
    const leaders = leadersOf(explanations);
    if (leaders.length < 2) return { kind: "none", reason: "nothing-to-separate" };
    const rivals = leaders.map((explanation) => rivalOf(explanation, settings));
    const { element, stage } = leaders[0] as Explanation;
    const candidates = injectionsFor(element, settings, made ?? planOf(sheet)).map((check) => {
      const repeat = 1 + Math.max(0, ...repeatsOf(check.id, leaders));
      return separationBy(candidateOf(check, { stage, repeat }, settings), rivals, settings);
    });
    // A damaged number in the plan would come out again as how far apart they read.
    for (const { difference } of candidates) finite(difference, "plan", "checks of which readings follow");
    const best = candidates.reduce((one, other) => (other.score > one.score * MUCH ? other : one));
    if (best.difference < LEAST) return { kind: "none", reason: "no-injection-tells" };
    return { kind: "found", ...resultOf(best, rivals) };
  });
}

/** Those of the first element and stage that has several. */
function leadersOf(explanations: readonly Explanation[]): Explanation[] {
  const leading = explanations.filter(({ leading, cause }) => leading && cause !== "unexplained");
  const groupOf = ({ element, stage }: Explanation) =>
    leading.filter((other) => other.element === element && other.stage === stage);
  return leading.map(groupOf).find((group) => group.length > 1) ?? [];
}

/** The situations that an explanation stands for. */
function rivalOf(explanation: Explanation, settings: RelaySettings): Rival {
  const { element, cause: name, which, estimate } = explanation;
  const setting = settings.elements.find(({ id }) => id === element);
  if (setting === undefined) return fail("conflict", "explanations", "elements of the sheet", element);
  const suspect = { setting, settings };
  const cause = CAUSES.find((one) => one.name === name);
  const way = cause?.ways(suspect).find((one) => one.which === which);
  if (cause === undefined || way === undefined)
    return fail("conflict", "explanations", `explanations of the sheet`, `${name} ${which ?? ""}`);
  const at = (x: number): Situation => situationOf(cause, way, x, suspect);
  const situation = at(estimate?.value ?? 0);
  const { from, to } = estimate ?? {};
  if (from === undefined || to === undefined) return { explanation, situation, beside: [situation, situation] };
  return { explanation, situation, beside: [at(from + (to - from) / 4), at(to - (to - from) / 4)] };
}

/** The checks of the plan, those of the element first, and its time at other multiples. */
function injectionsFor(element: string, settings: RelaySettings, { checks }: Plan): Check[] {
  const isOwn = (check: Check) => check.element === element;
  const others = LADDERS[sideOf(element, settings)].flatMap((multiple) => {
    const timed = timedAt(settings, { element, multiple });
    return timed.kind === "found" ? [timed.check] : [];
  });
  const all = [...checks.filter(isOwn), ...others, ...checks.filter((check) => !isOwn(check))];
  return all.filter((check, i) => all.findIndex(({ id }) => id === check.id) === i);
}

const settingOf = (element: string, { elements }: RelaySettings): ElementSetting =>
  elements.find(({ id }) => id === element) ?? fail("conflict", "plan", "a plan of this sheet", element);

const sideOf = (element: string, settings: RelaySettings): "over" | "under" =>
  definitionOf(settingOf(element, settings).function).side;

const repeatsOf = (check: string, leaders: readonly Explanation[]): number[] =>
  leaders.flatMap(({ readings }) => readings.filter((reading) => reading.check === check).map(({ repeat }) => repeat));

/** An injection that nobody has made yet. */
function candidateOf(check: Check, key: Omit<ReadingKey, "check">, settings: RelaySettings): Taken {
  const setting = settingOf(check.element, settings);
  const uncertainty = allowedAt(undefined, check, { setting, measured: 0 });
  return {
    check,
    setting,
    key: { check: check.id, ...key },
    level: check.level ?? 0,
    value: "operated",
    uncertainty,
  };
}

function resultOf({ taken, predicted, differences, difference }: Separation, rivals: readonly Rival[]): NextInjection {
  const { check } = taken;
  const unit = unitOfReading(check);
  const expected = rivals.map(({ explanation: { cause, which } }, i): ExpectedReading => {
    const told = predicted[i] as Predicted;
    return { cause, ...(which !== undefined && { which }), predicted: told };
  });
  // A time that comes after the injection is given up is not seen either: "never" would say too much of the relay.
  const words = { never: "no operation while it is injected", operated: "an operation" } as const;
  const shown = (value: Predicted) => (typeof value === "number" ? inWords(value, unit) : words[value]);
  const at = check.level === undefined ? "" : ` at ${written(plain(check.level, 6), check.unit)}`;
  const foreseen = [...alike(expected, shown)].map(([what, causes]) => `${what} if ${causes.join(" or ")}`).join("; ");
  return {
    ...taken.key,
    injection: check,
    expected,
    difference,
    apart: differences.filter((each) => each >= APART).length,
    pairs: differences.length,
    says: `${check.id}${at} would tell: ${foreseen}.`,
  };
}

/** The causes that let expect the same, by what that is in words. */
function alike(
  expected: readonly ExpectedReading[],
  shown: (value: Predicted) => string,
): ReadonlyMap<string, readonly string[]> {
  const causes = new Map<string, string[]>();
  for (const { cause, which, predicted } of expected) {
    const name = which === undefined ? cause : `${cause} (${which})`;
    causes.set(shown(predicted), [...(causes.get(shown(predicted)) ?? []), name]);
  }
  return causes;
}
