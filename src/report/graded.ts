/** What was measured in a check, in words: the reading that counts beside its band, and how far out it is. */
import { unitOfReading } from "../base/reading-unit.js";
import { clockState } from "../base/states.js";
import { plain, written } from "../base/written.js";
import type { Check, Unit } from "../plan/index.js";
import type { GradedVerdict, Judged, Reading } from "../record/index.js";
import { totalTime } from "../timeline/index.js";
import { expectedInWords, plannedInjection } from "./planned.js";
import { difference, minutes, moment, shown } from "./shown.js";

/** What came of a check, in words. */
export interface Told {
  /** What was injected: `12 A`, or how the level moves for a pickup. Empty where the check is impossible. */
  readonly injected: string;
  /** The band in words. */
  readonly expected: string;
  readonly measured: string;
  /** Error against nominal, with percent. */
  readonly error: string;
  /** The share of the tolerance that the error uses. */
  readonly used: string;
  /** By how much it is out, or why there is no reading. */
  readonly remark: string;
  /** When it was taken, and what was noted; of a check without reading the reason, where it is known. */
  readonly noted: string;
}

/** What a graded check says of its decisive reading. */
export function gradedInWords(verdict: GradedVerdict, check: Check): Told {
  const unit = unitOfReading(check);
  const { reading, band, grade, uncertainty } = verdict.readings[verdict.decisive] as Judged;
  const injected =
    reading.injected === undefined
      ? plannedInjection(check)
      : `${written(reading.injected, check.unit)} (planned ${written(check.level ?? 0, check.unit)})`;
  const noted = [reading.takenAt && moment(reading.takenAt), reading.note]
    .filter((part) => part !== undefined)
    .join(", ");
  const repeats = repeatsInWords(verdict.readings, unit);
  if (band === undefined || typeof reading.value !== "number" || grade.error === undefined) {
    const nothing = { injected, error: "—", used: "—", noted };
    return { ...nothing, ...unmeasured(reading, check, repeats) };
  }
  const text = shown(band, [reading.value], unit);
  const percent = grade.errorPercent === undefined ? "" : ` (${signed(grade.errorPercent)} %)`;
  return {
    injected,
    expected: text.band,
    measured: `${withUncertainty(text.measured[0] as string, uncertainty, unit)}${repeats}`,
    // What has nothing nominal but "at once" is not off by all that it takes.
    error: band.nominal === 0 && band.low === undefined ? "—" : `${written(signed(grade.error), unit)}${percent}`,
    used: grade.used === undefined ? "—" : `${shareInWords(grade.used)} %`,
    remark:
      grade.verdict === "within"
        ? onLimit(grade.used)
        : howFarOut(grade, { unit, proves: check.proves, known: uncertainty !== undefined }),
    noted,
  };
}

/** In percent, with so many digits that only what is on the limit reads 100. */
function shareInWords(used: number): string {
  let digits = 3;
  while (plain(100 * used, digits) === "100" && digits < 17) digits++;
  return plain(100 * used, digits);
}

const MOST_DECIMALS = 20;

/** More than this many are told by their range. */
const MOST_LISTED = 5;

/** ` (worst of 1.26, 1.28 s)`: the one that counts stands in front of it. */
function repeatsInWords(readings: readonly Judged[], unit: Unit): string {
  if (readings.length === 1) return "";
  const values = readings.map(({ reading }) => reading.value);
  // What differs of frequencies are their last digits.
  const digits = unit === "Hz" ? 7 : 5;
  const numbers = values.filter((value) => typeof value === "number");
  if (numbers.length === values.length && values.length > MOST_LISTED) {
    const [least, most] = [Math.min(...numbers), Math.max(...numbers)];
    return ` (worst of ${values.length} from ${plain(least, digits)} to ${written(plain(most, digits), unit)})`;
  }
  const listed = values.map((value) => (typeof value === "number" ? plain(value, digits) : value)).join(", ");
  return ` (worst of ${numbers.length === values.length ? written(listed, unit) : listed})`;
}

/** What came of an injection without a number that could be held against a band. */
function unmeasured(
  { value, operatedBy }: Reading,
  check: Check,
  repeats: string,
): Pick<Told, "expected" | "measured" | "remark"> {
  const expected = expectedInWords(check);
  if (value === "never") {
    return check.expect.form === "band"
      ? { expected, measured: `never operated${repeats}`, remark: `given up after ${minutes(givenUpAfter(check))}` }
      : { expected, measured: `stayed quiet${repeats}`, remark: "" };
  }
  const after = typeof value === "number" ? ` after ${shown({ nominal: value }, [], "s").nominal}` : "";
  return {
    expected,
    measured: `operated${after}${repeats}`,
    remark: `should have stayed quiet${operatedBy === undefined ? "" : `; ${operatedBy} operated`}`,
  };
}

/**
 * `42.40 A ± 0.49 A (k = 2)`, where an uncertainty is given: at two digits. Zeros of the reading behind its last place are
 * padding and are left out; other digits stay, however many they are.
 */
function withUncertainty(measured: string, uncertainty: Judged["uncertainty"], unit: Unit): string {
  if (uncertainty === undefined) return measured;
  const { standard, coverageFactor } = uncertainty;
  const expanded = twoDigits(standard * coverageFactor);
  const places = expanded.split(".")[1]?.length ?? 0;
  const kept = measured.replace(/\.(\d+)/, (_, decimals: string) => {
    const read = decimals.slice(0, places) + decimals.slice(places).replace(/0+$/, "");
    return read === "" ? "" : `.${read}`;
  });
  return `${kept} ± ${written(expanded, unit)} (k = ${coverageFactor})`;
}

/** `0.10` of 0.1045, but `0.1` of 0.1, which has no second digit; what is smaller than anything that is read keeps its exponent. */
function twoDigits(x: number): string {
  const rounded = Number(x.toPrecision(2));
  if (Number(x.toPrecision(12)) === rounded) return String(rounded);
  const decimals = 1 - Math.floor(Math.log10(rounded));
  return decimals <= MOST_DECIMALS ? rounded.toFixed(Math.max(0, decimals)) : plain(x, 2);
}

/** How long the fault lasts, or the whole sweep. */
const givenUpAfter = ({ timeline }: Check): number => clockState(timeline)?.duration ?? totalTime(timeline);

const signed = (x: number): string => `${x > 0 ? "+" : ""}${plain(x, 3)}`;

const onLimit = (used: number | undefined): string => (used === 1 ? "on the limit" : "");

interface Measured {
  readonly unit: Unit;
  readonly proves: Check["proves"];
  /** Whether the reading came with an uncertainty. */
  readonly known: boolean;
}

function howFarOut(
  { outsideBy, error, verdict }: { outsideBy?: number; error: number; verdict: string },
  { unit, proves, known }: Measured,
): string {
  const near = known ? "too near the limit for its uncertainty" : "no uncertainty is given to decide with";
  if (outsideBy === undefined) return verdict === "outside" ? "inside the limit, but not by the guard" : near;
  const [over, under] = proves === "operate-time" ? ["too long", "too short"] : ["too high", "too low"];
  const beyond = `${difference(outsideBy, unit)} ${error > 0 ? over : under}`;
  return verdict === "outside" ? beyond : `${beyond}, but ${near}`;
}
