import { explain } from "tripwright/explain";
import { plan } from "tripwright/plan";
import { judge } from "tripwright/record";
import { rehearsePlan } from "tripwright/rehearsal";
import { expect, test } from "vitest";
import { directional67, distance21, read } from "../support/sheets.js";

/** The leading explanation of what a relay with this pickup gives. */
function leading(element: { readonly id: string }, pickup: number) {
  const sheet = read([element]);
  const planned = plan(sheet);
  return explain(judge(sheet, planned, rehearsePlan(sheet, planned, { errors: { [element.id]: { pickup } } })));
}

test("a zone that reaches too far is explained by its setting: every place on its boundary moves with it", () => {
  const [first] = leading(distance21, 1.1);
  expect(first).toMatchObject({ cause: "pickup-setting", complete: true });
  // Readings know the boundary to a step of their sweep, 0.02 ohm.
  expect(Math.abs((first?.estimate?.value ?? 0) - 4.4)).toBeLessThan(0.02);
  const edge = first?.readings.find(({ check }) => check === "21-1/edge@AB-45°");
  // cos 30° of the reach
  expect(Math.abs(Number(edge?.predicted) - 1.1 * 3.4641)).toBeLessThan(0.02);
});

test("a level beside the boundary, where it stayed quiet, contradicts nothing; an edge in angle stays where it is", () => {
  for (const element of [directional67, distance21]) {
    const [first] = leading(element, 1.08);
    const still = first?.readings.find(({ check }) => check.includes("quiet@reverse"));
    expect(still).toMatchObject({ measured: "never", predicted: "never", offAfter: 0 });
  }
  const angle = leading(directional67, 1.08)[0]?.readings.find(({ check }) => check === "67P/edge@leading");
  expect(angle?.predicted).toBe(134.75);
});
