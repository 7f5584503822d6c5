/** Settings of two elements that make no sense beside each other. */

import type { Problem } from "../base/problem.js";
import type { Seconds } from "../base/units.js";
import { definiteTimeOf, type ElementSetting, startLevel } from "../element/index.js";
import { definition, inItsUnit, isInverse } from "./started.js";

/** Every finding between two elements, with the field of the one that does nothing. */
export const findingsBetween = (elements: readonly ElementSetting[]): Problem[] => [
  ...crossed(elements),
  ...covered(elements),
  ...hidden(elements),
];

/** Which function must lie below which over function that watches the same. */
const PAIRS: readonly (readonly [under: string, over: string])[] = [
  ["27", "59"],
  ["81U", "81O"],
  ["37", "51"],
  ["37", "50"],
  ["87", "87U"],
  ["87T", "87U"],
];

/** An under function above an over function leaves no level at which both are quiet; a high stage below the low one does nothing. */
function crossed(elements: readonly ElementSetting[]): Problem[] {
  return PAIRS.flatMap(([under, over]) =>
    elements
      .filter((low) => low.function === under)
      .flatMap((low) =>
        elements
          .filter((high) => high.function === over && high.watches === low.watches && high.pickup <= low.pickup)
          .map((high) => ({
            code: "conflict" as const,
            path: `${low.id}.pickup`,
            expected: `a setting below that of ${high.id}, ${inItsUnit(high.pickup, high)}`,
            received: inItsUnit(low.pickup, low),
          })),
      ),
  );
}

/** A distance zone within a faster one of the same loops and direction never operates first. */
function covered(elements: readonly ElementSetting[]): Problem[] {
  const zones = elements.filter((element) => element.function === "21");
  return zones.flatMap((slow) =>
    zones
      .filter(({ watches, operates }) => watches === slow.watches && operates === slow.operates)
      .filter((fast) => (delayOf(fast) ?? 0) < (delayOf(slow) ?? 0) && fast.pickup >= slow.pickup)
      .map((fast) => ({
        code: "conflict" as const,
        path: `${slow.id}.pickup`,
        expected: `a reach beyond that of the faster zone ${fast.id}, ${inItsUnit(fast.pickup, fast)}`,
        received: inItsUnit(slow.pickup, slow),
      })),
  );
}

const delayOf = ({ law }: ElementSetting): Seconds | undefined => definiteTimeOf(law);

/** The shortest time that a stage takes anywhere: an inverse one may come down to nothing but what is declared. */
const shortestOf = (element: ElementSetting): number =>
  delayOf(element) ?? (element.law.minimumTime ?? 0) + (element.law.addedTime ?? 0);

/** What else decides whether a stage operates, beside its setting and its delay; 50 and 51 are stages of one function. */
const circumstancesOf = (element: ElementSetting): string =>
  JSON.stringify({
    ...element,
    ...Object.fromEntries(STAGE.map((field) => [field, undefined])),
    function: element.function.replace(/^5[01]/, "50 or 51"),
  });
const STAGE = ["id", "pickup", "law", "measuringDelay", "dropout", "step", "startContact", "accuracy"];

/** A stage behind a faster one of the same function on the same contact, which starts earlier: it never operates first. */
function hidden(elements: readonly ElementSetting[]): Problem[] {
  const hides = (fast: ElementSetting, slow: ElementSetting): boolean => {
    const soon = delayOf(fast);
    if (soon === undefined || fast.function === "21" || circumstancesOf(fast) !== circumstancesOf(slow)) return false;
    // An inverse time is longer than its limit everywhere.
    const isFaster = isInverse(slow) ? soon <= shortestOf(slow) : soon < shortestOf(slow);
    const [first, second] = [startLevel(fast), startLevel(slow)];
    return isFaster && (definition(slow).side === "over" ? first <= second : first >= second);
  };
  return elements.flatMap((slow) =>
    elements
      .filter((fast) => fast !== slow && hides(fast, slow))
      .map((fast) => ({
        code: "conflict" as const,
        path: `${slow.id}.pickup`,
        expected: `a setting ${definition(slow).side === "over" ? "below" : "above"} that of the faster ${fast.id}, ${inItsUnit(fast.pickup, fast)}`,
        received: inItsUnit(slow.pickup, slow),
      })),
  );
}
