/** Settings in a record are read by people: no field may stand there under the name that a program gives it. */
import { plan, sheetSchema } from "tripwright/plan";
import { judge } from "tripwright/record";
import { toMarkdown } from "tripwright/report";
import { describe, expect, test } from "vitest";
import { WORDS } from "../../src/report/typed-in-words.js";
import { inverse51, read, usual } from "../support/sheets.js";

interface Shape {
  readonly $ref?: string;
  readonly properties?: Readonly<Record<string, Shape>>;
  readonly items?: Shape;
  readonly anyOf?: readonly Shape[];
  readonly oneOf?: readonly Shape[];
  readonly $defs?: Readonly<Record<string, Shape>>;
}

const whole = sheetSchema as unknown as Shape;

/** The names of all fields at and below a part of a sheet. */
function fieldsOf({ $ref, properties = {}, items, anyOf = [], oneOf = [] }: Shape): string[] {
  const defined = $ref === undefined ? [] : [whole.$defs?.[$ref.replace("#/$defs/", "")] as Shape];
  const below = [...defined, ...anyOf, ...oneOf, ...(items === undefined ? [] : [items])];
  // The name of an element is its heading, and its accuracies are told with the bands.
  const own = Object.entries(properties).filter(([name]) => name !== "id" && name !== "accuracy");
  return [...own.flatMap(([name, shape]) => [name, ...fieldsOf(shape)]), ...below.flatMap(fieldsOf)];
}

test("every field of an element and of a differential zone has words, and none is left from earlier", () => {
  const { elements, zone } = whole.properties as Readonly<Record<string, Shape>>;
  const fields = new Set([...fieldsOf(elements as Shape), ...fieldsOf(zone as Shape)]);
  expect(fields.size).toBeGreaterThan(60);
  expect(Object.keys(WORDS).toSorted()).toEqual([...fields].toSorted());
});

test("no words are written as programs write: two in one, with a capital in the middle", () => {
  for (const words of Object.values(WORDS)) expect(words).not.toMatch(/[a-z][A-Z]/);
});

describe("a record says", () => {
  const paragraphOf = (element: object, other: object = {}) => {
    const sheet = read([element], other);
    return toMarkdown(judge(sheet, plan(sheet), [])).split("\n");
  };

  test("the shape of a distance zone and of its earth return", () => {
    const zone = {
      form: "quadrilateral",
      lineAngle: "75°",
      resistance: "8 ohm",
      forward: { from: "-15°", to: "115°" },
    };
    const earth = { factor: 0.67, angle: "-7.5°" };
    const accuracy = { ...usual, angle: { absolute: "3°" } };
    const z1 = { id: "Z1", function: "21", watches: "phase-and-earth-loops", pickup: "4 ohm", zone, earth };
    expect(paragraphOf({ ...z1, operates: "forward", minimumCurrent: "0.2 × rated", accuracy })).toContain(
      "function 21, watches phase-and-earth-loops, pickup 4 ohm, zone (quadrilateral, line angle 75°, resistance 8 ohm, forward (from -15°, to 115°)), earth return (factor k0 0.67, angle -7.5°), operates forward, minimum current 0.2 × rated",
    );
  });

  test("constants of a curve, its points one by one, a reset by its form, and what is switched off", () => {
    const points = [
      { multiple: 2, time: 5 },
      { multiple: 10, time: 0.5 },
    ];
    const { multiplier: _, curve: __, ...plain } = inverse51;
    const element = { ...plain, curve: { form: "table", points }, reset: { form: "definite", time: "1 s" } };
    expect(paragraphOf({ ...element, enabled: true })).toContain(
      "function 51, pickup 4 A, start contact named start, dropout ratio 0.95, curve (table, points (multiple 2, time 5), (multiple 10, time 0.5)), reset (definite, time 1 s), enabled yes",
    );
  });

  test("a field from a later version under its own name, also one that objects have", () => {
    const sheet = read([inverse51]);
    const elements = [{ ...inverse51, toString: "x", later: 1 }];
    const record = { ...judge(sheet, plan(sheet), []), sheet: { ...sheet, elements } };
    expect(toMarkdown(record as never)).toContain("dropout ratio 0.95, toString x, later 1");
  });
});
