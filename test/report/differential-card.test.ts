import { explain } from "tripwright/explain";
import { plan } from "tripwright/plan";
import { judge, readReadings } from "tripwright/record";
import { rehearsePlan } from "tripwright/rehearsal";
import { siteCard, toMarkdown } from "tripwright/report";
import { describe, expect, test } from "vitest";
import { differential87T, dyn11, read } from "../support/sheets.js";

const sheet = (currentChannels: number) =>
  read([differential87T], { ...dyn11, vt: undefined, source: { currentChannels } });
const lineOf = (text: string, id: string) => text.split("\n").find((line) => line.startsWith(`| ${id} |`)) ?? "";

describe("a differential function on the site card", () => {
  test("says what six channels carry, and the restraint at which the differential current is swept", () => {
    const line = lineOf(siteCard(plan(sheet(6))), "87T/edge@restraint-2");
    // 7 A of restraint: 1.75 A ± 10 % of differential current. 7.785 A on the first side at its lowest, 6.215 A on the second.
    expect(line).toContain("1.57 to 1.93 A, steps of 0.01 A held 0.12 s; differential current at a restraint of 7 A");
    expect(line).toContain("ia, ib, ic 7.785 to 7.965 A at 0, -120, 120°");
    // Dyn11: the second side leads by 30°, and runs against the first.
    expect(line).toContain("ia2, ib2, ic2 6.215 to 6.035 A at -150, 90, -30°");
  });

  test("says which phases two channels feed, and where they go", () => {
    const card = siteCard(plan(sheet(3)));
    expect(lineOf(card, "87T/quiet@through-load")).toContain(
      "channel ia in on phase a, back on b of the first side, ib on phase a of the second",
    );
    // √3 · 4.374 A on one phase of the star side.
    expect(lineOf(card, "87T/quiet@through-load")).toContain("ia 4.3739 A at 0°; ib 7.5758 A at 180°");
    expect(card).toContain("ia to ia and ib reversed; ib to ia2");
  });

  test("says what each side carries on the primary side of its own current transformers", () => {
    const primary = (channels: number, id: string) => lineOf(siteCard(plan(sheet(channels))), id).split(" | ")[3];
    // 10 MVA at 33 kV and at 11 kV, behind 200/5 and 600/5.
    expect(primary(6, "87T/quiet@through-load")).toBe("first side 174.95 A; second side 524.86 A");
    // √3 times as much on one phase of the star side.
    expect(primary(3, "87T/quiet@through-load")).toBe("first side 174.95 A; second side 909.09 A");
    // 7.785 to 7.965 A times 40; 6.215 to 6.035 A times 120.
    expect(primary(6, "87T/edge@restraint-2")).toMatch(
      /^first side 311\.4 to 318\.6 A; second side 745\.8 to 724\.2 A$/,
    );
    // Three times rated on one phase of the star side, and 1/√3 of that on two lines of the delta.
    expect(primary(6, "87T/quiet@earth-fault-2")).toBe("first side 303.03 A; second side 1574.6 A");
    expect(primary(1, "87T/quiet@zero-sequence-2")).toBe("second side 524.86 A");
    expect(primary(6, "87T/pickup")).not.toContain("side");
  });

  test("takes the current transformers of the first side where the second has none of its own", () => {
    const line = { ...differential87T, id: "87L", function: "87", restraint: "maximum" };
    const card = siteCard(plan(read([line], { ct: "400/5" })));
    expect(lineOf(card, "87L/quiet@through-load").split(" | ")[3]).toBe("first side 400 A; second side 400 A");
  });

  test("says how much second harmonic goes with the current", () => {
    // 15 % of 2 · 0.3 · 4.374 A.
    expect(lineOf(siteCard(plan(sheet(1))), "87T/edge@second-harmonic")).toContain("A with 0.39365 A of harmonic 2");
    expect(plan(sheet(6)).checks.find(({ id }) => id === "87T/quiet@second-harmonic")?.injection).toBe(
      "the first side alone, three-phase; with a second harmonic, at twice the angle of its phase",
    );
  });
});

test("a failed place on the line is told in amperes of the first side", () => {
  const planned = plan(sheet(6));
  const { readings } = readReadings("check,value\n87T/edge@restraint-2,1.88 A", planned);
  const record = judge(sheet(6), planned, readings);
  const line = lineOf(toMarkdown(record), "87T/edge@restraint-2");
  expect(line).toContain("1.663 to 1.837 A");
  expect(line).toContain("**OUTSIDE**");
  // 1.05 × 1.75 A is the limit.
  expect(line).toContain("0.0425 A too high");
});

test("the record says the zone, and the slopes as they are read", () => {
  const text = toMarkdown(judge(sheet(6), plan(sheet(6)), []));
  expect(text).toContain(
    "| Zone | power 10 MVA, first side (voltage 33 kV, zero sequence kept), second side (CT 600/5, voltage 11 kV, clock number 11) |",
  );
  expect(text).toContain(
    "slopes (slope 25 %, line through-origin), (slope 60 %, line from-knee, begins at 2 × rated), second harmonic 15 %",
  );
});

test("explanations of a relay with a wrong slope are ties, or none; nothing breaks", () => {
  const right = sheet(6);
  const planned = plan(right);
  const [first, second] = differential87T.slopes;
  const wrong = read([{ ...differential87T, slopes: [{ ...first, slope: "35 %" }, second] }], {
    ...dyn11,
    vt: undefined,
  });
  const record = judge(right, planned, rehearsePlan(wrong, planned));
  expect(Array.isArray(explain(record))).toBe(true);
});
