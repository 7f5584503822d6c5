/** Edges at the setting itself, and what stays quiet because of what stands beside it. */
import { explain } from "tripwright/explain";
import { plan } from "tripwright/plan";
import { type Explanation, judge } from "tripwright/record";
import { rehearsePlan } from "tripwright/rehearsal";
import { expect, test } from "vitest";
import { directional67, read, synchronism25 } from "../support/sheets.js";

/** What is told of a relay that has other settings than the sheet. */
function told(onSheet: object, inRelay: object) {
  const sheet = read([onSheet]);
  const planned = plan(sheet);
  return explain(judge(sheet, planned, rehearsePlan(read([inRelay]), planned)));
}

const bearing = (explanation: Explanation | undefined, wanted: string) =>
  explanation?.readings.filter((one) => one.bearing === wanted).map(({ check }) => check);

test("a wider angle is told from both of its sides", () => {
  const { voltage: _, frequency: __, ...accuracy } = synchronism25.accuracy;
  const narrow = { ...synchronism25, slip: undefined, voltageDifference: undefined, accuracy };
  const pickup = told(narrow, { ...narrow, pickup: "24°" }).find(({ cause }) => cause === "pickup-setting");
  expect(pickup?.says).toMatch(/pickup may be set to 2[34](\.\d)?°, where the sheet says 20°/);
  expect(bearing(pickup, "supports")).toEqual(["25/pickup", "25/edge@lagging", "25/quiet"]);
  expect(bearing(pickup, "contradicts")).toEqual([]);
});

test("a fault behind that leaves a directional function quiet is not held against any explanation", () => {
  const pickup = told(directional67, { ...directional67, pickup: "4.3 A" }).find(
    ({ cause }) => cause === "pickup-setting",
  );
  expect(pickup?.says).toMatch("where the sheet says 4 A");
  expect(bearing(pickup, "supports")).toContain("67P/pickup");
  expect(bearing(pickup, "contradicts")).not.toContain("67P/quiet@reverse");
});

test("an angle that no sweep met is told by what the readings leave open, not by the middle of it", () => {
  const turned = told(directional67, { ...directional67, characteristicAngle: "60°" }).find(
    ({ cause }) => cause === "characteristic-angle",
  );
  // The sweep of the leading limit, 45° + 90°, begins at 145°, where it had started already: 55° or more. The others were made
  // at 45°, which lies within 90° of it: 135° or less.
  expect(turned?.says).toMatch(/The readings leave it open between 55° and 135°\.$/);
  expect(turned?.estimate?.from).toBeCloseTo(55, 2);
  expect(turned?.estimate?.to).toBeCloseTo(135, 2);
});
