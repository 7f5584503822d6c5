import { writeFileSync } from "node:fs";
import { plan, readSheet } from "tripwright/plan";
import { judge } from "tripwright/record";
import { rehearsePlan } from "tripwright/rehearsal";
import { siteCard, toMarkdown } from "tripwright/report";
import { test } from "vitest";
import { read } from "./support/sheets.js";

test("x", () => {
  const el = {
    id: "25",
    function: "25",
    watches: "a",
    pickup: "20°",
    voltageDifference: "5 V",
    slip: "0.1 Hz",
    delay: "0.5 s",
    liveAbove: "50 V",
    deadBelow: "12 V",
    deadClosing: "running",
    closingTime: "80 ms",
    dropoutDifference: "1°",
    accuracy: {
      pickup: { absolute: "2°" },
      time: { percent: 2, absolute: "40 ms" },
      voltage: { absolute: "1 V" },
      frequency: { absolute: "0.02 Hz" },
    },
  };
  for (const n of [3, 1] as const) {
    const sheet = read([el], { source: { currentChannels: n, voltageChannels: n } });
    const p = plan(sheet);
    const r = rehearsePlan(sheet, p);
    const rec = judge(sheet, p, r);
    writeFileSync(
      `/tmp/w/${n}.txt`,
      siteCard(p) +
        "\n\n" +
        JSON.stringify(p.findings) +
        "\n" +
        r.map((x) => x.check + " " + x.value).join("\n") +
        "\n" +
        rec.verdicts.map((v) => v.check + " " + (v.status === "graded" ? v.grade.verdict : v.status)).join("\n") +
        "\n" +
        toMarkdown(rec),
    );
  }
});
