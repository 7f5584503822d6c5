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
