/** Verdicts against exact decimals throughout, and against doubles alone, which are wrong on the limit. */
import { Decimal } from "decimal.js";
import { band, grade, gradeAll } from "tripwright/grading";
import { compare } from "./compare.js";

const COUNT = 50_000;
const [nominal, percent] = [1, 2];
const accepted = band(nominal, { percent });
// One reading in a hundred lies exactly on the limit.
const readings = Float64Array.from({ length: COUNT }, (_, i) =>
  i % 100 === 0 ? 1.02 : Math.round(970_000 + i * 1.2) / 1_000_000,
);
const [ours, plain, exact] = [new Uint8Array(COUNT), new Uint8Array(COUNT), new Uint8Array(COUNT)];

function inDecimals() {
  const center = new Decimal(nominal);
  for (let i = 0; i < COUNT; i++) {
    exact[i] = new Decimal(Number(readings[i])).minus(center).div(center).times(100).abs().lte(percent) ? 0 : 1;
  }
  return exact;
}

function inDoubles() {
  for (let i = 0; i < COUNT; i++) {
    plain[i] = Math.abs(((Number(readings[i]) - nominal) / nominal) * 100) <= percent ? 0 : 1;
  }
  return plain;
}

// What is timed is the work, not how soon the engine has compiled it.
for (let i = 0; i < 300; i++) {
  gradeAll(readings, { band: accepted }, ours);
  inDoubles();
}

const oneByOne = () => Uint8Array.from(readings, (reading) => (grade(reading, accepted).verdict === "within" ? 0 : 1));

compare("verdicts, 1 % of them on the limit", [
  { name: "gradeAll", run: () => gradeAll(readings, { band: accepted }, ours) },
  { name: "decimal.js throughout", run: inDecimals, wanted: 220, rounds: 3 },
  { name: "grade, reading by reading, with errors and shares", run: oneByOne, rounds: 1 },
]);
// Where every verdict must be the same this one would be refused: it is there for its speed.
compare(
  "the same beside a loop of doubles that is wrong on the limit",
  [
    { name: "gradeAll", run: () => gradeAll(readings, { band: accepted }, ours) },
    { name: "|reading − 1|/1 · 100 ≤ 2 in doubles", run: inDoubles, wanted: 1 / 1.2 },
  ],
  { agreement: 1 },
);
/** @param {Uint8Array} codes */
const wrong = (codes) => codes.filter((code, i) => code !== exact[i]).length;
console.log(`  wrong verdicts: gradeAll ${wrong(ours)}, loop of doubles ${wrong(plain)} of ${COUNT}`);
