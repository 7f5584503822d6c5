/** What may be the cause of a failed check: possibilities for a qualified person to check, never an instruction. */
import type { Explanation, TestRecord } from "../record/index.js";
import { plain } from "./shown.js";

export const CAUSES_TITLE = "Possible causes, for a qualified person to check";

/** More than this many are no help. */
const MOST = 6;

/** The leading explanations of an element, each with what speaks for and against it; a tie is said as a tie. */
export function causesInWords({ explanations = [] }: Partial<TestRecord>, element: string): string[] {
  const own = explanations.filter((one) => one.element === element && one.leading);
  return (["as-found", "as-left"] as const).flatMap((stage) => {
    const leading = own.filter((one) => one.stage === stage);
    const found = leading.filter(({ cause }) => cause !== "unexplained");
    const lines = leading.slice(0, MOST).map((one) => `${stageOf(one)}${causeInWords(one)}`);
    const more = leading.length - MOST;
    return [
      ...lines,
      ...(more > 0 ? [`${more} more that fit as well.`] : []),
      ...(found.length > 1 ? ["The readings do not tell these apart; another injection may."] : []),
    ];
  });
}

const stageOf = ({ stage }: Explanation): string => (stage === "as-left" ? "As left: " : "");

function causeInWords({
  cause,
  says,
  lookAt,
  readings,
  misfitBefore,
  misfit,
  threshold,
  complete,
}: Explanation): string {
  if (cause === "unexplained") return `${says} ${lookAt}`;
  const named = (bearing: "supports" | "contradicts") => [
    ...new Set(readings.filter((reading) => reading.bearing === bearing).map(({ check }) => check)),
  ];
  const against = named("contradicts");
  const weight = [
    `supported by ${named("supports").join(", ")}`,
    ...(against.length > 0 ? [`not by ${against.join(", ")}`] : []),
    ...(complete ? [] : ["explains a part only"]),
    `χ² ${plain(misfitBefore, 3)} falls to ${plain(misfit, 3)}, counting from a fall of ${plain(threshold, 3)}`,
  ];
  return `${says} ${lookAt} (${weight.join("; ")})`;
}
