import { plan } from "tripwright/plan";
import { judge, type Reading } from "tripwright/record";
import { siteCard, toMarkdown } from "tripwright/report";
import { describe, expect, test } from "vitest";
import { read, synchronism25 } from "../support/sheets.js";

const sheet = read([synchronism25]);
const planned = plan(sheet);
const lineOf = (text: string, id: string) => text.split("\n").find((line) => line.startsWith(`| ${id} |`)) ?? "";

describe("a synchronism check on the site card", () => {
  const card = siteCard(planned);

  test("says which side moves, and how far", () => {
    const line = lineOf(card, "25/edge@lagging");
    expect(line).toContain("24 to 16°, steps of 0.2°");
    expect(line).toContain("the incoming side lags");
    expect(line).toContain("va, vb, vc 63.509 V at 0, -24, 120°, turned to 0, -16, 120°");
  });

  test("says which channel has which frequency, and how a reading at slip is taken", () => {
    const line = lineOf(card, "25/edge@faster");
    expect(line).toContain("va, vc 50 Hz; vb 50.14 to 50.06 Hz");
    expect(line).toContain("wait for a whole turn");
    expect(line).toContain("0.080 to 0.120 Hz");
  });

  test("connects the incoming side", () => {
    expect(card).toContain("va to va; vb to vs; vc to vc");
    // In the row too: a channel left on the input of its own name would show the running side twice.
    for (const id of ["25/pickup", "25/edge@faster", "25/quiet@dead-running"])
      expect(lineOf(card, id)).toContain("; connect vb to vs | ");
    expect(lineOf(card, "25/quiet@dead-incoming")).not.toContain("connect");
  });
});

test("the record judges each limit in its own unit", () => {
  const readings: Reading[] = [
    { check: "25/edge@higher", stage: "as-found", repeat: 1, value: 6.4 },
    { check: "25/edge@faster", stage: "as-found", repeat: 1, value: 0.11 },
  ];
  const record = toMarkdown(judge(sheet, planned, readings));
  expect(lineOf(record, "25/edge@higher")).toContain("6.40 V");
  expect(lineOf(record, "25/edge@higher")).toContain("OUTSIDE");
  expect(lineOf(record, "25/edge@faster")).toContain("0.110 Hz");
});

test("a running side between two phases is one channel across both, which a person can connect", () => {
  const sheet = (other: object) => read([{ ...synchronism25, watches: "bc", liveAbove: "45 V" }], other);
  expect(siteCard(plan(sheet({})))).toContain(
    "va to va; vb across vb and vc (its return not on the neutral); vc to vs",
  );
  expect(siteCard(plan(sheet({ source: { voltageChannels: 1 } })))).toContain(
    "v across vb and vc (its return not on the neutral) and to vs",
  );
});
