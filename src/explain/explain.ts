import { fail, nameIn, object, options } from "../base/check.js";
import { within } from "../base/input-error.js";
import { onOwnData } from "../base/own-data.js";
import { settingsOf } from "../plan/index.js";
import type { ExplainedReading, Explanation, Stage, TestRecord } from "../record/index.js";
import { inWords, signed } from "./in-words.js";
import { offBy, predict } from "./predict.js";
import { AS_WRITTEN, type Free, type Suspect } from "./situation.js";
import { type Taken, takenAt } from "./taken.js";
import { leavesNothing, type Weighed, type Weighing, weigh } from "./weigh.js";

/** What is to be explained. */
export interface ExplainOptions {
  /** `"failed"` (default): elements with a check that is outside. `"all"`: also those whose readings are all within. */
  readonly elements?: "failed" | "all";
}

/**
 * Why a check may be off: ranked possibilities for every element with a check outside, stage by stage, each with the
 * misfit that it leaves, the readings that support or contradict it, and what to look at.
 *
 * Each possible cause is a transformation of the sheet or of the readings with at most one free number. What would be read
 * under it is compared with what was read by χ², where a reading may lie off by its own uncertainty and by what a sound
 * relay uses of its declared accuracy (a fifth of it as a standard deviation, a twentieth from repeat to repeat). A cause
 * counts only where χ² falls by 3.84, corrected for how many ways were tried; what lies within as much of the best is a
 * tie and leads with it. Where nothing counts, or what leads leaves a reading of the element further off than chance
 * allows, the first entry is `unexplained`.
 *
 * @param record - From `judge`.
 * @returns By element in the order of the sheet, the best first. Nothing where no check is outside.
 * @throws A {@link InputError} for what is no record, and for a sheet that is not good.
 * Accuracy: estimates to 3e-6 of their range, then to the step of the setting. Where nothing is wrong something is
 * claimed in at most one case of twenty, readings scattering as stated.
 * @source JCGM 100:2008 (uncertainties); the causes: common practice
 *
 * @example
 * import { explain } from "tripwright/explain";
 * import { plan, readSheet } from "tripwright/plan";
 * import { judge } from "tripwright/record";
 * const accuracy = { pickup: { percent: 5 }, time: { percent: 5, absolute: "40 ms" } };
 * const sheet = readSheet({
 *   format: "tripwright/sheet@1", substation: "Corriedale Junction", feeder: "Tannery Lane", relay: "F12",
 *   frequency: "50 Hz", values: "secondary", ct: "400/5",
 *   elements: [{ id: "51P", function: "51", pickup: "4 A", curve: "iec-inverse", multiplier: 0.2, startContact: "start", accuracy }],
 * });
 * const read = (check: string, value: number) => ({ check, value, stage: "as-found", repeat: 1 }) as const;
 * const record = judge(sheet, plan(sheet), [read("51P/pickup", 4.02), read("51P/time@3", 1.424), read("51P/time@7", 0.793)]);
 * const [first] = explain(record);
 * first?.says; // → "The time multiplier may be set to 0.225, where the sheet says 0.2."
 * first?.readings.map(({ check, bearing }) => `${check}: ${bearing}`); // → ["51P/pickup: neutral", "51P/time@3: supports", "51P/time@7: supports"]
 */
export function explain(record: TestRecord, given: ExplainOptions = {}): Explanation[] {
  const { elements = "failed" } = options(given, ["elements"]);
  nameIn(elements, { failed: true, all: true }, "elements");
  const { sheet, verdicts } = object(record, "record", "a record");
  if (!Array.isArray(verdicts)) fail("wrong-type", "verdicts", "a list of verdicts", verdicts);
  const settings = within("sheet", () => settingsOf(sheet));
  return onOwnData("record", "a record, as `judge` makes it", () =>
    (["as-found", "as-left"] as const).flatMap((stage) => {
      const taken = takenAt(stage, record, settings);
      const failed = new Set(failedAt(stage, record));
      return settings.elements
        .filter(({ id }) => failed.has(id) || elements === "all")
        .flatMap((setting) => explainElement({ setting, settings }, taken, { stage, failed: failed.has(setting.id) }));
    }),
  );
}

/** The elements with a check outside. */
function failedAt(stage: Stage, { verdicts, plan }: TestRecord): string[] {
  return verdicts.flatMap((verdict) => {
    if (verdict.status !== "graded" || verdict.stage !== stage || verdict.grade.verdict !== "outside") return [];
    const element = plan.checks.find(({ id }) => id === verdict.check)?.element;
    return element === undefined ? [] : [element];
  });
}

interface Asked {
  readonly stage: Stage;
  readonly failed: boolean;
}

function explainElement(suspect: Suspect, taken: readonly Taken[], { stage, failed }: Asked): Explanation[] {
  const own = taken.filter(({ setting }) => setting.id === suspect.setting.id);
  if (own.length === 0) return [];
  const weighing = weigh(suspect, taken);
  const least = Math.min(...weighing.counting.map(({ misfit }) => misfit));
  const found = weighing.counting.map((weighed): Omit<Explanation, "rank"> => {
    const { cause, way, x, open, situation, misfit } = weighed;
    return {
      element: suspect.setting.id,
      stage,
      cause: cause.name,
      ...(way.which !== undefined && { which: way.which }),
      leading: misfit - least <= weighing.threshold,
      complete: leavesNothing(own, situation),
      says: [way.says(x), ...openInWords(way.free, open)].join(" "),
      lookAt: cause.lookAt,
      ...(way.free !== undefined && { estimate: estimateOf(way.free, x, open) }),
      misfitBefore: weighing.before,
      misfit,
      threshold: weighing.threshold,
      tried: weighing.tried,
      readings: bearingsOf(weighed, own, taken),
    };
  });
  const isExplained = found.some(({ leading, complete }) => leading && complete);
  const all = isExplained || !failed ? found : [nothing(suspect, weighing, { stage, own }), ...found];
  return all.map((explanation, i) => ({ ...explanation, rank: i + 1 }));
}

const estimateOf = (
  { name, unit }: Free,
  value: number,
  open: Weighed["open"],
): NonNullable<Explanation["estimate"]> => ({
  name,
  value,
  unit,
  ...(open && { from: open[0], to: open[1] }),
});

/** What the readings leave open, in words: the estimate is the middle of it, and must not pass for a measured value. */
function openInWords(free: Free | undefined, open: Weighed["open"]): string[] {
  if (free === undefined || open === undefined) return [];
  if (free.turns) return [turnInWords(open)];
  const [from, to] = open.map((end) => inWords(end, free.unit));
  const [isLowest, isHighest] = [open[0] <= free.from, open[1] >= free.to];
  if (isLowest && isHighest) return ["The readings leave it open altogether."];
  const range = isLowest ? `below ${to}` : isHighest ? `above ${from}` : `between ${from} and ${to}`;
  return [`The readings leave it open ${range}.`];
}

function turnInWords(open: readonly [from: number, to: number]): string {
  const [from, to] = open.map(signed) as [number, number];
  const [first, last] = [inWords(from, "°"), inWords(to, "°")];
  if (open[1] - open[0] >= 360) return "The readings leave it open altogether.";
  return from <= to
    ? `The readings leave it open between ${first} and ${last}.`
    : `The readings leave it open from ${first}${from === 180 ? "" : " through 180°"} to ${last}.`;
}

/** That nothing here explains it is an answer. */
function nothing(
  { setting: { id } }: Suspect,
  { before, threshold, tried, counting }: Weighing,
  { stage, own }: { readonly stage: Stage; readonly own: readonly Taken[] },
): Omit<Explanation, "rank"> {
  const part = counting.length === 0 ? "any of it" : "all of it; what follows would explain a part";
  return {
    element: id,
    stage,
    cause: "unexplained",
    leading: true,
    complete: false,
    says: `Nothing that was tried explains what was read of ${id}, or not ${part}.`,
    lookAt:
      "Look for what is not on the list: blocking by an input, logic between the element and its contact, a defect.",
    misfitBefore: before,
    misfit: before,
    threshold,
    tried,
    readings: own.map((taken) => readingOf(taken, offBy(taken, AS_WRITTEN), predict(taken, AS_WRITTEN))),
  };
}

/** The readings of the element, and those of others that the explanation moves. */
function bearingsOf({ situation }: Weighed, own: readonly Taken[], all: readonly Taken[]): ExplainedReading[] {
  const others = all.filter((taken) => !own.includes(taken) && offBy(taken, situation) !== offBy(taken, AS_WRITTEN));
  return [...own, ...others].map((taken) => readingOf(taken, offBy(taken, situation), predict(taken, situation)));
}

const FAR = 2;

function readingOf(taken: Taken, after: number, predicted: ExplainedReading["predicted"]): ExplainedReading {
  const before = offBy(taken, AS_WRITTEN);
  const nearer = Math.abs(before) - Math.abs(after);
  const isSupport = nearer > 1;
  const isAgainst = Math.abs(after) > FAR && !isSupport;
  return {
    ...taken.key,
    measured: taken.value,
    predicted,
    offBefore: before,
    offAfter: after,
    bearing: isSupport ? "supports" : isAgainst ? "contradicts" : "neutral",
  };
}
