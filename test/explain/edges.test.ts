/** Places on a boundary, as an explanation moves them: against what follows by hand. */
import { explain } from "tripwright/explain";
import { plan, readSheet, settingsOf } from "tripwright/plan";
import { judge } from "tripwright/record";
import { rehearsePlan } from "tripwright/rehearsal";
import { describe, expect, test } from "vitest";
import { crossingOf } from "../../src/explain/asked.js";
import { offBy } from "../../src/explain/predict.js";
import { AS_WRITTEN } from "../../src/explain/situation.js";
import { type Taken, takenAt } from "../../src/explain/taken.js";
import { directional67, distance21, distanceZone2, read, tanneryLane } from "../support/sheets.js";

/** What was read of one check, the relay being right. */
function takenOf(element: { readonly id: string }, check: string): Taken {
  const sheet = read([element]);
  const planned = plan(sheet);
  const readings = rehearsePlan(sheet, planned).filter((one) => one.check === `${element.id}/${check}`);
  const [taken] = takenAt("as-found", judge(sheet, planned, readings), settingsOf(sheet));
  if (taken === undefined) throw new Error(check);
  return taken;
}

test("a reach between two levels of a sweep is met there, and not at a level: 4.013 ohm on the line", () => {
  const taken = takenOf(distance21, "edge@BC-75°");
  const longer = { ...AS_WRITTEN, setting: () => ({ ...taken.setting, pickup: 4.013 }) as Taken["setting"] };
  expect(crossingOf(taken, longer)).toBeCloseTo(4.013, 9);
});

test("a turn more is the same angle", () => {
  const taken = takenOf(directional67, "edge@leading");
  const turned = { ...taken, value: (taken.value as number) - 360 };
  expect(offBy(turned, AS_WRITTEN)).toBeCloseTo(offBy(taken, AS_WRITTEN), 9);
});

test("a place in ohm may lie off by a fifth of the accuracy of the pickup: 2 % of 4 ohm", () => {
  const accuracy = { pickup: { percent: 2 }, time: { percent: 50, absolute: "9 s" }, angle: { absolute: "3°" } };
  const { uncertainty } = takenOf({ ...distanceZone2, pickup: "4 ohm", accuracy } as typeof distance21, "edge@BC-75°");
  expect(uncertainty.relay).toBeCloseTo(0.2 * 0.02 * 4, 9);
});

test("of I·cos φ the pickup rises as the characteristic angle is off: by 1/cos 15°, and one angle explains all of it", () => {
  const cosine = { ...directional67, measures: "current-cosine", dropoutRatio: 0.95 };
  const sheet = readSheet(tanneryLane([cosine]));
  const planned = plan(sheet);
  const readings = rehearsePlan(sheet, planned, { errors: { "67P": { angle: 15 } } });
  const found = explain(judge(sheet, planned, readings)).find(({ cause }) => cause === "characteristic-angle");
  expect(found).toMatchObject({ leading: true, complete: true });
  const pickup = found?.readings.find(({ check }) => check === "67P/pickup");
  expect(Math.abs(Number(pickup?.predicted) - 4 / Math.cos(Math.PI / 12))).toBeLessThan(0.03);
});

/** What is said of the characteristic angle of a relay that has it off by so much. */
function angleTold(characteristicAngle: string, angle: number) {
  const sheet = readSheet(tanneryLane([{ ...directional67, characteristicAngle }]));
  const planned = plan(sheet);
  const readings = rehearsePlan(sheet, planned, { errors: { "67P": { angle } } });
  return explain(judge(sheet, planned, readings)).find(({ cause }) => cause === "characteristic-angle")?.says;
}

describe("half a turn is 180°, as on sheets and dials", () => {
  test.each([
    ["90°", 90],
    ["-90°", -90],
  ])("where the sheet says %s and the relay is off by %d°", (onSheet, off) => {
    expect(angleTold(onSheet, off)).toMatch(
      `The characteristic angle may be set to 180°, where the sheet says ${onSheet}.`,
    );
  });

  test("also where what is left open begins there: all that is more than 90° off and not yet reversed", () => {
    expect(angleTold("90°", 130)).toMatch(/The readings leave it open from 180° to -\d+°\.$/);
  });
});
