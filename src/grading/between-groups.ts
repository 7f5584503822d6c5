import { fail, finite, list } from "../base/check.js";
import { within } from "../base/input-error.js";
import { ratioTail } from "./f-distribution.js";
import { deviation, meanOf, unitOf } from "./mean.js";

/** Readings of several groups taken apart: what differs from group to group, and what within each. */
export interface GroupScatter {
  /** Mean of all readings. */
  readonly mean: number;
  /** Standard deviation within the groups, pooled; groups · (readings − 1) degrees of freedom. */
  readonly within: number;
  /** Standard deviation that the groups have beside it; 0 where the scatter within explains their means. */
  readonly between: number;
  /**
   * Variance of the group means times their size, over the variance within: about 1 where groups do not differ. Absent where
   * there is no variance within.
   */
  readonly ratio?: number;
  /** How often a ratio this large comes of groups that do not differ: below 0.05 they are usually taken to. */
  readonly chance?: number;
  readonly degreesBetween: number;
  readonly degreesWithin: number;
  /** Standard uncertainty of the mean, from the means of the groups: right whether they differ or not. */
  readonly standard: number;
}

/**
 * The analysis of variance of groups of equal size, such as five shots on each of several days: whether the days differ by
 * more than the shots of one day do, and the uncertainty of the mean that stands either way.
 *
 *     s_a² = n · variance of the group means,   s_b² = mean of the variances within,   ratio F = s_a²/s_b²
 *     between² = (s_a² − s_b²)/n, not below 0,   u(mean) = √(variance of the group means/groups)
 *
 * @param groups - Two or more lists of two readings or more, all of one length.
 * @throws A {@link InputError} for fewer, for lists of different lengths, for readings that are not finite, and for a scatter
 * whose square does not fit a double.
 * Accuracy: two passes, so that all is right as far as the readings have digits; the chance 1e-13 relative from 1e-6 on.
 * @source JCGM 100:2008 H.5.2; Abramowitz and Stegun 26.6.2 (chance)
 *
 * @example
 * import { betweenGroups } from "tripwright/grading";
 * const { within, between, ratio, chance } = betweenGroups([[1, 3], [11, 13]]);
 * [within, between, ratio]; // → [1.4142135623730951, 7, 50]
 * chance?.toFixed(4); // → "0.0194"
 */
export function betweenGroups(groups: readonly (readonly number[])[]): GroupScatter {
  const size = checkGroups(groups);
  const means = groups.map(meanOf);
  const mean = meanOf(means);
  const [spread, ...scatters] = [means, ...groups].map((list) => deviation(list, meanOf(list))) as [
    number,
    ...number[],
  ];
  // In units of the largest, so that no square leaves the range of a double.
  const unit = unitOf([spread, ...scatters]);
  const ofMeans = (spread / unit) ** 2;
  const inside = meanOf(scatters.map((scatter) => (scatter / unit) ** 2));
  const [degreesBetween, degreesWithin] = [groups.length - 1, groups.length * (size - 1)];
  const ratio = inside > 0 ? (size * ofMeans) / inside : 0;
  finite(spread + inside + ratio + mean, "groups", "a scatter that fits a double");
  return {
    mean,
    within: unit * Math.sqrt(inside),
    between: unit * Math.sqrt(Math.max(0, ofMeans - inside / size)),
    ...(inside > 0 && { ratio, chance: ratioTail(ratio, [degreesBetween, degreesWithin]) }),
    degreesBetween,
    degreesWithin,
    standard: unit * Math.sqrt(ofMeans / groups.length),
  };
}

/** How many readings each group has. */
function checkGroups(groups: readonly (readonly number[])[]): number {
  const size = list(groups, "groups", "two groups of readings or more", 2)[0]?.length ?? 0;
  for (const [i, group] of groups.entries())
    within(`groups[${i}]`, () => {
      const what = `two readings or more, as many as in the first group (${size})`;
      if (list(group, "", what, 2).length !== size) fail("wrong-length", "", what, group);
      for (const [j, reading] of group.entries()) finite(reading, `[${j}]`, "a reading");
    });
  return size;
}
