import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { parseCsv } from "../../src/record/csv.js";
import { holds } from "../support/holds.js";

const cells = (text: string) => parseCsv(text).map((row) => row.cells);

describe("comma-separated text after RFC 4180", () => {
  test.each([
    [
      "line ends of any kind, the last one optional",
      "a,b\r\n1,2\n3,4\r5,6",
      [
        ["a", "b"],
        ["1", "2"],
        ["3", "4"],
        ["5", "6"],
      ],
    ],
    [
      "quoted separators, quotes and line ends",
      'a,b\n"1,5","say ""no""\nnow"',
      [
        ["a", "b"],
        ["1,5", 'say "no"\nnow'],
      ],
    ],
    [
      "empty cells, but no empty rows",
      "a,b\n\n,2\n , \n1,\n",
      [
        ["a", "b"],
        ["", "2"],
        ["1", ""],
      ],
    ],
    ["a byte-order mark", "\uFEFFa,b", [["a", "b"]]],
    [
      "semicolons where the header has them",
      "a;b\n1,5;2",
      [
        ["a", "b"],
        ["1,5", "2"],
      ],
    ],
    [
      "semicolons between quoted names, below an empty line",
      '\uFEFF\r\n"a;x";"b, c"\r\n1,5;"2"',
      [
        ["a;x", "b, c"],
        ["1,5", "2"],
      ],
    ],
    [
      "commas where a semicolon stands in quotes alone",
      '"a;x",b\n1,2',
      [
        ["a;x", "b"],
        ["1", "2"],
      ],
    ],
    ["a quote in the middle of a cell is text", 'a\n5" pipe', [["a"], ['5" pipe']]],
    ["nothing", "", []],
  ])("%s", (_what, text, expected) => {
    expect(cells(text)).toEqual(expected);
  });

  test("each row knows the line on which it begins", () => {
    expect(parseCsv('a\n"one\ntwo"\r\nthree').map((row) => row.line)).toEqual([1, 2, 4]);
  });

  test("whatever was quoted comes back", () => {
    const cell = fc.string({ unit: fc.constantFrom("a", ",", ";", '"', "\n", "\r\n", " ", "é") });
    holds(
      fc.property(fc.array(fc.tuple(cell, cell), { minLength: 1 }), (rows) => {
        const text = [["x", "y"], ...rows]
          .map((row) => row.map((c) => `"${c.replaceAll('"', '""')}"`).join(","))
          .join("\r\n");
        const kept = rows.filter((row) => row.some((c) => c.trim() !== ""));
        expect(cells(text)).toEqual([["x", "y"], ...kept]);
      }),
    );
  });
});
