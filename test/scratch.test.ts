import { plan } from "tripwright/plan";
import { judge } from "tripwright/record";
import { rehearsePlan } from "tripwright/rehearsal";
import { siteCard } from "tripwright/report";
import { test } from "vitest";
import { writeFileSync } from "node:fs";
import { distance21, distanceZone2, read } from "./support/sheets.js";

test("x", () => {
  let out = "";
  for (const source of [{}, { currentChannels: 1, voltageChannels: 1 }]) {
    const { startContact: _, ...z2 } = distanceZone2;
    const sheet = read([distance21, z2], { source });
    const planned = plan(sheet);
    out += planned.checks.map((c) => `${c.id} ${JSON.stringify(c.expect)} ${JSON.stringify(c.sweep ?? c.level)} block ${c.block}`).join("\n");
    out += JSON.stringify(planned.impossible, null, 1) + JSON.stringify(planned.findings);
    const t = Date.now();
    const readings = rehearsePlan(sheet, planned);
    out += `\n${Date.now() - t} ms\n`;
    const { verdicts, problems } = judge(sheet, planned, readings);
    out += verdicts.map((v) => `${v.check} ${v.status} ${v.status === "graded" ? v.grade.verdict + " " + v.readings[0]?.reading.value : ""}`).join("\n") + JSON.stringify(problems);
    out += "\n" + siteCard(planned) + "\n";
  }
  writeFileSync("/tmp/h21.txt", out);
});
