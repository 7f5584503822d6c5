import type { Answer } from "../base/answer.js";
import { type LeastSquares, leastSquares } from "../base/least-squares.js";
import { dot } from "../base/qr.js";

/** Values that are sought. The errors are straight in the first of them. */
export interface Sought {
  /** Where the search may begin, with 1 as the first value. */
  readonly places: readonly (readonly number[])[];
  /** Whether the errors bend in a value. */
  readonly isBent: (j: number) => boolean;
  /** The weighted errors of all points; NaN where the function does not operate. */
  readonly errorsAt: (values: readonly number[]) => Float64Array;
}

/** For derivatives by differences, as a share of where the search begins: good to eight digits, also near the pickup. */
const STEP = 1e-7;

/** The values with the least squares: the first in closed form, then all of them by a search from there. */
export function bestValues(sought: Sought): Answer<LeastSquares, "not-operating" | "undetermined"> {
  const { isBent, errorsAt } = sought;
  const start = firstPlace(sought);
  if (!start) return { kind: "none", reason: "not-operating" };
  const count = errorsAt(start).length;
  const answer = leastSquares({
    start,
    count,
    evaluate: (parameters, residuals, jacobian) => {
      const values = [...parameters];
      residuals.set(errorsAt(values));
      start.forEach((size, j) => {
        const step = isBent(j) ? STEP * size : size;
        const below = errorsAt(values.with(j, (values[j] as number) - step));
        const above = errorsAt(values.with(j, (values[j] as number) + step));
        const slopes = above.map((x, i) => (x - (below[i] as number)) / (2 * step));
        jacobian.set(slopes, j * count);
      });
    },
  });
  return answer.kind === "found" ? answer : { kind: "none", reason: "undetermined" };
}

/** The first of the places where the function operates at every point, with the best first value. */
function firstPlace({ places, errorsAt }: Sought): readonly number[] | undefined {
  for (const place of places) {
    const base = errorsAt(place.with(0, 0));
    const slopes = errorsAt(place).map((x, i) => x - (base[i] as number));
    const best = -dot(slopes, base) / dot(slopes, slopes);
    if (Number.isFinite(best)) return place.with(0, best);
  }
  return undefined;
}
