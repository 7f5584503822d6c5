/** The other examples: what they print. */
import { expect, test, vi } from "vitest";

/** Imports a script anew with its arguments in place, against the sources. */
async function printedBy(script: string, ...options: string[]): Promise<string> {
  const { argv } = process;
  const printed: string[] = [];
  const log = vi.spyOn(console, "log").mockImplementation((text: string) => void printed.push(text));
  process.argv = ["node", script, ...options];
  try {
    vi.resetModules();
    await import(`../../examples/${script}.js`);
    return printed.join("\n");
  } finally {
    process.argv = argv;
    log.mockRestore();
  }
}

test("a rehearsal tells a relay that is right from one whose multiplier is wrong", async () => {
  const [right, wrong, loose] = (await printedBy("rehearse")).split("\n\n");
  expect(right).toMatch("35 within, 0 outside");
  expect(wrong).toMatch(/OUTSIDE\n.*51P\/time@3.*\n.*51P\/time@7/);
  expect(loose).toMatch(/51P\/pickup +expected 3\.800 to 4\.200 A/);
});

test("a fleet is planned with its progress, and says how the time grew", async () => {
  const printed = await printedBy("fleet", "20");
  expect(printed).toMatch("20 of 20 relays, 400 checks");
  expect(printed).toMatch(/20 relays planned: \d+\.\d ms each\.\nThe second half took/);
});

test("the failing 51 is explained: several causes fit, one more injection settles it", async () => {
  const printed = await printedBy("explain");
  const [tied, next, settled] = printed.split("\n\n");
  expect(tied).toMatch(/, [2-9] causes fit:/);
  expect(tied).toMatch("The time multiplier may be set to 0.225");
  expect(next).toMatch("The next injection: 51P/time@7");
  expect(settled).toMatch(
    /One cause is left:\n.*The time multiplier may be set to 0\.225, where the sheet says 0\.2\./,
  );
});

test("a tool shows its own message at each field that is wrong, and the plan when all are mended", async () => {
  const [fields, mended] = (await printedBy("embed")).split("\n\n");
  expect(fields?.split("\n").filter((line) => !line.startsWith(" "))).toEqual([
    "elements[0].pickup",
    "elements[0].accuracy.time.absolut",
    "elements[0].multiplier",
  ]);
  expect(fields).toMatch('That unit does not fit here. Expected: a current such as "4 A"; you typed "4 V"');
  expect(mended).toMatch("Mended: 51P/pickup, ");
});

test("a record becomes rows for a table and for a plot, in the order in which the work went", async () => {
  const table = vi.spyOn(console, "table").mockImplementation(() => undefined);
  const printed = await printedBy("rows");
  expect(table.mock.calls[0]?.[0]).toContainEqual({
    check: "81U/time",
    planned: 48.5,
    measured: 0.22,
    used: 1,
    verdict: "within",
  });
  table.mockRestore();
  expect(printed).toMatch("First reading: 59/pickup at 2026-11-18T09:40");
  expect(printed).toMatch(/A plot of 29 readings/);
});

test("settings in as CSV come out as times with limits, and a bad line is named", async () => {
  const error = vi.spyOn(console, "error").mockImplementation(() => undefined);
  const { exitCode } = process;
  const [header, ...lines] = (await printedBy("times")).split("\n");
  expect(process.exitCode).toBe(1);
  process.exitCode = exitCode;
  expect(header).toBe("relay,multiple,expected_s,low_s,high_s");
  // 13.5 · 0.2/(3 − 1) ± 5 % and 13.5 · 0.2/(7 − 1) ± 40 ms; 4.9 A is below 5 A.
  expect(lines.slice(0, 3)).toEqual(["F12,3,1.35,1.2825,1.4175", "F12,7,0.45,0.41,0.49", "F14,0.98,never,,"]);
  expect(error.mock.calls).toEqual([["line 6: multiplier: expected a time multiplier above 0, received 0"]]);
  error.mockRestore();
});
