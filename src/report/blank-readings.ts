import { onOwnData } from "../base/own-data.js";
import { plain, written } from "../base/written.js";
import type { Check, Plan } from "../plan/index.js";
import { checkPlan, oneLine } from "./account.js";
import { csvCell } from "./csv-cell.js";
import { minutes } from "./shown.js";

/** The columns that most readings need; others that `readReadings` knows may be added. */
const COLUMNS = ["check", "wanted", "value", "injected", "instrument", "takenAt", "note"] as const;

/**
 * A file of readings to be filled in: one line for each check of a plan, in the order in which they are made, with what is to be
 * read and its unit in the column `wanted`. `readReadings` takes it as it is: what stays empty was not taken.
 *
 * @param plan - From `plan`.
 * @returns Comma-separated values with a header.
 * @throws A {@link InputError} for what is no plan.
 * @source RFC 4180
 *
 * @example
 * import { plan, readSheet } from "tripwright/plan";
 * import { blankReadings } from "tripwright/report";
 * const accuracy = { pickup: { percent: 5 }, time: { percent: 5, absolute: "40 ms" } };
 * const sheet = readSheet({
 *   format: "tripwright/sheet@1", substation: "Corriedale Junction", feeder: "Tannery Lane", relay: "F12",
 *   frequency: "50 Hz", values: "secondary", ct: "400/5",
 *   elements: [{ id: "50P", function: "50", pickup: "40 A", delay: "100 ms", accuracy }],
 * });
 * const lines = blankReadings(plan(sheet)).split("\r\n");
 * lines[0]; // → "check,wanted,value,injected,instrument,takenAt,note"
 * lines[1]; // → "50P/pickup,level in A at which it starts,,,,,"
 * lines[3]; // → "50P/time,time in s at 48 A,,,,,"
 */
export function blankReadings(plan: Plan): string {
  return onOwnData("plan", "a plan, as `plan` makes it", () => {
    const empty = COLUMNS.slice(2).map(() => "");
    const rows = checkPlan(plan).checks.map((check) => [check.id, wantedOf(check), ...empty]);
    return [COLUMNS, ...rows]
      .map((row) => row.map((cell) => csvCell(oneLine(cell))).join(","))
      .join("\r\n")
      .concat("\r\n");
  });
}

/** What is to be read, in words without a comma. */
function wantedOf({ proves, unit, level = 0, expect }: Check): string {
  const inUnit = unit === "1" ? "level as a ratio" : `level in ${unit}`;
  const at = written(plain(level, 6), unit);
  switch (proves) {
    case "pickup":
    case "edge":
      return `${inUnit} at which it starts`;
    case "dropout":
      return `${inUnit} at which it lets go`;
    case "operate-time":
      return `time in s at ${at}`;
    case "no-operation":
      return `never in ${expect.form === "stays-quiet" ? minutes(expect.held) : "this time"} at ${at} or else the time in s`;
  }
}
