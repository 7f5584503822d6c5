/** The states of planned sweeps stand where whoever reads a check looks for them. */
import fc from "fast-check";
import { type Check, plan } from "tripwright/plan";
import { expect, test } from "vitest";
import { sweepStates } from "../../src/base/states.js";
import { holds } from "../support/holds.js";
import { sheets } from "../support/sheets.js";

type Swept = Check & Required<Pick<Check, "sweep">>;
const isSwept = (check: Check): check is Swept => check.sweep !== undefined;

test("one level for each step of the sweep and one more, each held, in front of them the first until it has settled", () => {
  holds(
    fc.property(sheets, (sheet) => {
      for (const { timeline, sweep } of plan(sheet).checks.filter(isSwept)) {
        const { settling, levels } = sweepStates(timeline, sweep);
        expect(levels).toHaveLength(Math.round(Math.abs(sweep.to - sweep.from) / sweep.step) + 1);
        for (const { duration } of levels) expect(duration).toBe(sweep.hold);
        if (sweep.rest === undefined) expect(settling?.channels).toEqual(levels[0]?.channels);
        else expect(settling).toBeUndefined();
      }
    }),
    20,
  );
});
