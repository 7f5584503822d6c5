/** What each thread of the pool runs: sheets in, plain rows out. Both are JSON, so that any job engine can carry them. */
import { planEach } from "tripwright";

/**
 * One row for each sheet. A bad sheet is a row like any other, with what is wrong with it: it stops nobody but itself.
 * @param {unknown[]} sheets
 */
export default function plannedRows(sheets) {
  return [...planEach(sheets)].map((item) =>
    "plan" in item
      ? { relay: item.relay, checks: item.plan.checks.length, seconds: item.plan.totalTime, problems: [] }
      : { relay: undefined, checks: 0, seconds: 0, problems: item.problems },
  );
}
