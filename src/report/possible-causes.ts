/** What may be the cause of a failed check: possibilities for a qualified person to check, never an instruction. */
import { plain } from "../base/written.js";
import type { Explanation, TestRecord } from "../record/index.js";

export const CAUSES_TITLE = "Possible causes, for a qualified person to check";

/** More than this many are no help. */
const MOST = 6;

/** One possible cause: what may be the case, what to look at, and what speaks for and against it. */
interface PossibleCause {
  readonly says: string;
  readonly lookAt: string;
  readonly weight?: string;
}

/** The leading explanations of an element, each on one line; a tie is said as a tie. */
export const causesInWords = (record: Partial<TestRecord>, element: string): string[] =>
  leadingCauses(record, element).map((cause) =>
    typeof cause === "string"
      ? cause
      : `${cause.says} ${cause.lookAt}${cause.weight === undefined ? "" : ` (${cause.weight})`}`,
  );

/** The same for a terminal: each part on a line of its own, what belongs to the first indented. */
export const causesInLines = (record: Partial<TestRecord>, element: string): string[] =>
  leadingCauses(record, element).flatMap((cause) => {
    if (typeof cause === "string") return [`${element}: ${cause}`];
    const { says, lookAt, weight } = cause;
    return [`${element}: ${says}`, `    ${lookAt}`, ...(weight === undefined ? [] : [`    (${weight})`])];
  });

function leadingCauses({ explanations = [] }: Partial<TestRecord>, element: string): (PossibleCause | string)[] {
  const own = explanations.filter((one) => one.element === element && one.leading);
  return (["as-found", "as-left"] as const).flatMap((stage) => {
    const leading = own.filter((one) => one.stage === stage);
    const found = leading.filter(({ cause }) => cause !== "unexplained");
    const more = leading.length - MOST;
    return [
      ...leading.slice(0, MOST).map(possibleCause),
      ...(more > 0 ? [`${more} more that fit as well.`] : []),
      ...(found.length > 1 ? ["The readings do not tell these apart."] : []),
    ];
  });
}

function possibleCause(explanation: Explanation): PossibleCause {
  const { cause, stage, lookAt, readings, misfitBefore, misfit, threshold, complete } = explanation;
  const says = `${stage === "as-left" ? "As left: " : ""}${explanation.says}`;
  if (cause === "unexplained") return { says, lookAt };
  const named = (bearing: "supports" | "contradicts") => [
    ...new Set(readings.filter((reading) => reading.bearing === bearing).map(({ check }) => check)),
  ];
  const [support, against] = [named("supports"), named("contradicts")];
  const weight = [
    support.length > 0 ? `supported by ${support.join(", ")}` : "supported by no reading alone",
    ...(against.length > 0 ? [`not by ${against.join(", ")}`] : []),
    ...(complete ? [] : ["explains a part only"]),
    `χ² falls by ${plain(misfitBefore - misfit, 3)}; by ${plain(threshold, 3)} or more it counts`,
  ];
  return { says, lookAt, weight: weight.join("; ") };
}
