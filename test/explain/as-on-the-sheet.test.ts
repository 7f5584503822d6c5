/** What is said of a sheet stands on the sheet; what one contact makes late is late for all that it shows. */
import { explain } from "tripwright/explain";
import { plan } from "tripwright/plan";
import { judge } from "tripwright/record";
import { type RelayErrors, rehearsePlan } from "tripwright/rehearsal";
import { describe, expect, test } from "vitest";
import { inverse51, read, underfrequency81, undervoltage27 } from "../support/sheets.js";

const PRIMARY = { values: "primary" };

/** What is said of one cause in a relay that has other settings than the sheet. */
function saysOf(cause: string, onSheet: object, inRelay: object, other: object = {}) {
  const sheet = read([onSheet], other);
  const planned = plan(sheet);
  const all = explain(judge(sheet, planned, rehearsePlan(read([inRelay], other), planned)));
  return all.find((one) => one.cause === cause)?.says;
}

describe("the sheet is quoted as it is written", () => {
  test("in primary values, with what the relay has beside them: 400/5 is 80", () => {
    const onSheet = { ...inverse51, pickup: "320 A" };
    const says = saysOf("pickup-setting", onSheet, { ...onSheet, pickup: "352 A" }, PRIMARY);
    const [, atRelay, primary] =
      /^The pickup may be set to ([\d.]+) A \(([\d.]+) A primary\), where the sheet says 320 A primary\.$/.exec(
        says ?? "",
      ) ?? [];
    expect(Number(atRelay) / 4.4).toBeCloseTo(1, 1);
    expect(Number(primary) / Number(atRelay) / 80).toBeCloseTo(1, 3);
    expect(saysOf("pickup-setting", inverse51, { ...inverse51, pickup: "4.4 A" })).toMatch(
      /^The pickup may be set to 4\.\d+ A, where the sheet says 4 A\.$/,
    );
  });

  test("also its difference from the start", () => {
    const onSheet = { ...undervoltage27, pickup: "8.8 kV", dropoutRatio: undefined, dropoutDifference: "400 V" };
    const says = saysOf("dropout-setting", onSheet, { ...onSheet, dropoutDifference: "900 V" }, PRIMARY);
    expect(says).toMatch(
      /^The function may let go \d+(\.\d+)? V \(\d+(\.\d+)? V primary\) from its start, where the sheet says 400 V primary\.$/,
    );
  });

  test("a level that blocks, which may lie behind another transformer, as it comes to at the relay", () => {
    const onSheet = { ...undervoltage27, pickup: "8.8 kV", blockBelow: "2.2 kV" };
    expect(saysOf("blocking-level", onSheet, { ...onSheet, blockBelow: "8 kV" }, PRIMARY)).toMatch(
      "where the sheet comes to 22 V at the relay",
    );
  });

  test("a thermal image by its time constant", () => {
    const image = (tau: string) => ({
      id: "49",
      function: "49",
      watches: "phase",
      pickup: "5 A",
      curve: { form: "thermal", tau },
      accuracy: { pickup: { percent: 5 }, time: { percent: 2 } },
    });
    const says = saysOf("time-multiplier", image("30 min"), image("36 min"));
    const [, seconds] =
      /^The time constant may be set to ([\d.]+) s, where the sheet says 1800 s\.$/.exec(says ?? "") ?? [];
    expect(Number(seconds) / 2160).toBeCloseTo(1, 2);
  });

  test("a curve that has no multiplier has none", () => {
    const points = (times: number) => ({
      ...inverse51,
      multiplier: undefined,
      curve: {
        form: "table",
        points: [
          { multiple: 1, time: 20 * times },
          { multiple: 30, time: times },
        ],
      },
    });
    expect(saysOf("time-multiplier", points(1), points(1.3))).toMatch(
      /^The time multiplier may be set to 1\.3\d*, where the sheet names none\.$/,
    );
  });
});

describe("the time of a breaker behind a contact", () => {
  const sheet = read([undervoltage27, underfrequency81]);
  const planned = plan(sheet);
  const late = { delay: 0.12 };
  const leading = (element: string, errors: RelayErrors) =>
    explain(judge(sheet, planned, rehearsePlan(sheet, planned, { errors })))
      .filter((one) => one.element === element && one.leading)
      .map(({ cause }) => cause);

  test("is in all times that this contact shows: several delays that are long by the same are no several delays", () => {
    expect(leading("27", { 27: late, "81U": late })).toEqual(["breaker-time"]);
    expect(leading("81U", { 27: late, "81U": late })).toEqual(["breaker-time"]);
  });

  test("is not in the times of one element alone, where another one of the same contact is right", () => {
    expect(leading("27", { 27: late })).not.toContain("breaker-time");
    expect(leading("27", { 27: late })).toContain("delay-setting");
  });
});
