/** Links between the pages that people read lead somewhere. */
import { existsSync, readdirSync, readFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { describe, expect, test } from "vitest";

const pages = ["README.md", "DEVELOPERS.md", ...readdirSync("docs").map((name) => join("docs", name))].filter((path) =>
  path.endsWith(".md"),
);
const read = (path: string) => readFileSync(path, "utf8");

/** The anchors that a forge gives the headings of a page: small letters, no punctuation, dashes for spaces. */
const anchorsOf = (text: string): string[] =>
  [...text.matchAll(/^#+ (.*)$/gm)].map(([, heading = ""]) =>
    heading
      .toLowerCase()
      .replace(/[^\p{L}\p{N} _-]/gu, "")
      .replaceAll(" ", "-"),
  );

function brokenIn(path: string, text: string): string[] {
  const targets = [...text.matchAll(/\]\(([^()\s]+)\)/g)].map(([, target = ""]) => target);
  return targets.filter((target) => {
    if (/^https?:/.test(target)) return false;
    const [file = "", anchor] = target.split("#");
    const place = join(dirname(path), file);
    if (file !== "" && !existsSync(place)) return true;
    return anchor !== undefined && !anchorsOf(file === "" ? text : read(place)).includes(anchor);
  });
}

describe("links", () => {
  test.each(pages)("of %s lead to a file and a heading that are there", (path) => {
    expect(brokenIn(path, read(path))).toEqual([]);
  });

  test("that lead nowhere are found", () => {
    const text = "# Here: it is\n[a](gone.md) [b](#here-it-is) [c](#nowhere) [d](conventions.md#angles)";
    expect(brokenIn("docs/x.md", text)).toEqual(["gone.md", "#nowhere", "conventions.md#angles"]);
  });

  test("lead from the first page of docs to every other one", () => {
    const first = read("docs/README.md");
    const others = pages.filter((path) => path.startsWith("docs/") && path !== "docs/README.md");
    expect(others.filter((path) => !first.includes(`](${path.slice("docs/".length)})`))).toEqual([]);
  });
});
