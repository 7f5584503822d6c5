import type { Band } from "../base/band.js";
import { above, atLeast, fail, finite, options } from "../base/check.js";
import { within } from "../base/input-error.js";
import { panel } from "../base/quadrature.js";
import { checkBand } from "./band.js";
import { conforming } from "./conformance.js";
import { upperTail } from "./distribution.js";

/** What is decided, about which quantities, and how well they are measured. All in the unit of the band. */
export interface Acceptance {
  readonly band: Band;
  /** How the quantity itself spreads from item to item, normally distributed. */
  readonly process: { readonly mean: number; readonly standardDeviation: number };
  /** Standard uncertainty of a reading, 0 or more. */
  readonly standardUncertainty: number;
  /** By how much the limits are drawn in for acceptance; default 0. A negative guard pushes them out. */
  readonly guard?: number;
}

/** What comes of accepting by measurement, as probabilities of an item taken at random. */
export interface AcceptanceRisks {
  /** Outside the band, and accepted (global consumer's risk, probability of false acceptance). */
  readonly consumer: number;
  /** Within the band, and rejected (global producer's risk, probability of false rejection). */
  readonly producer: number;
  readonly accepted: number;
  /** Within the band. */
  readonly conforming: number;
  /** Outside the band, of those that are accepted; absent where fewer than 1 in 10^290 are. */
  readonly consumerOfAccepted?: number;
}

/**
 * The risks of accepting and rejecting by measurement.
 *
 *     consumer = ∫ outside the band g(η) · P(accepted | η) dη,   producer = ∫ within g(η) · P(rejected | η) dη
 *
 * g is the normal distribution of the quantity; a reading is normal about η with the standard uncertainty.
 *
 * @throws A {@link InputError} for values that are not finite, a spread that is not above 0, an angle's band, and unknown
 * keys.
 * Accuracy: 1e-12; `consumerOfAccepted` 1e-11, however few are accepted.
 * @source JCGM 106:2012 9.3, 9.4 and 9.5
 *
 * @example
 * import { acceptanceRisks } from "tripwright/grading";
 * const band = { nominal: 1500, low: 1499.8, high: 1500.2 };
 * const process = { mean: 1500, standardDeviation: 0.12 };
 * const risks = acceptanceRisks({ band, process, standardUncertainty: 0.04, guard: 0.04 });
 * risks.consumer < 0.01; // → true
 * risks.producer > risks.consumer; // → true
 */
export function acceptanceRisks(acceptance: Acceptance): AcceptanceRisks {
  const { band, process, standardUncertainty: u, guard = 0 } = options(acceptance, KEYS);
  within("band", () => checkBand(band));
  if (band.period !== undefined) fail("not-applicable", "band.period", "no period: an angle has no spread here", 360);
  const { mean, standardDeviation } = options(process, ["mean", "standardDeviation"], "process");
  finite(mean, "process.mean", "a mean");
  above(standardDeviation, 0, "process.standardDeviation", "a standard deviation");
  atLeast(u, 0, "standardUncertainty", "a standard uncertainty");
  finite(guard, "guard", "a guard");
  const limits = { low: band.low ?? Number.NEGATIVE_INFINITY, high: band.high ?? Number.POSITIVE_INFINITY };
  const accepting = { low: limits.low + guard, high: limits.high - guard };
  const standard = (x: number): number => (x - mean) / standardDeviation;
  const cuts = around(accepting, u).map(standard);
  const highest = peakOf(accepting, { mean, standardDeviation, u });
  /** Of the items from one value of the quantity to another, the share that is accepted. */
  const acceptedFrom = (from: number, to: number): number =>
    accepting.low > accepting.high
      ? 0
      : acceptedBetween([standard(from), standard(to)], {
          accepted: (z) => conforming(mean + standardDeviation * z, accepting, { standardUncertainty: u }),
          cuts,
          highest,
        });
  const consumer =
    acceptedFrom(Number.NEGATIVE_INFINITY, limits.low) + acceptedFrom(limits.high, Number.POSITIVE_INFINITY);
  const good = acceptedFrom(limits.low, limits.high);
  const share = Math.max(0, 1 - upperTail(-standard(limits.low)) - upperTail(standard(limits.high)));
  const accepted = consumer + good;
  return {
    consumer,
    producer: Math.max(0, share - good),
    accepted,
    conforming: share,
    ...(accepted > FEWEST && { consumerOfAccepted: consumer / accepted }),
  };
}

const KEYS = ["band", "process", "standardUncertainty", "guard"];

/** Below it doubles run out of digits. */
const FEWEST = 1e-290;

interface Limits {
  readonly low: number;
  readonly high: number;
}

/** Where the share that is accepted changes: within a few uncertainties of the limits of acceptance. */
const around = ({ low, high }: Limits, u: number): readonly number[] =>
  [low, high].flatMap((limit) => [-8, -6, -4, -3, -2, -1, 0, 1, 2, 3, 4, 6, 8].map((by) => limit + by * u));

const clamped = (x: number, { low, high }: Limits): number => Math.min(Math.max(x, low), high);

/**
 * The standard deviations from the mean at which accepted items are most frequent: beyond a limit the share that is accepted
 * falls as exp(−½·(distance/u)²), about, against which the density rises.
 */
function peakOf(
  accepting: Limits,
  { mean, standardDeviation, u }: { readonly mean: number; readonly standardDeviation: number; readonly u: number },
): number {
  const shrunk = 1 + (u / standardDeviation) ** 2;
  return (clamped(mean, accepting) - mean) / shrunk / standardDeviation;
}

/** Both density and accepted share are such that so many standard deviations from the peak a factor of 1e-19 is lost. */
const REACH = 9.5;
/** Standard deviations from the mean beyond which the density is no double. */
const NOWHERE = 39;

interface Accepted {
  readonly accepted: (z: number) => number;
  readonly cuts: readonly number[];
  readonly highest: number;
}

/**
 * ∫ of the normal density times the share that is accepted, about its peak. Between the cuts both are so smooth that one panel
 * each is exact to rounding, the steeper the density the closer; a search for agreement would only chase the rounding of
 * the shares.
 */
function acceptedBetween([from, to]: readonly [number, number], { accepted, cuts, highest }: Accepted): number {
  const peak = clamped(highest, { low: from, high: to });
  if (Math.abs(peak) > NOWHERE) return 0;
  const [start, end] = [Math.max(from, peak - REACH), Math.min(to, peak + REACH)];
  const step = 1 / (1 + Math.abs(peak) / 8);
  const count = Math.ceil(REACH / step);
  const steps = Array.from({ length: 2 * count + 1 }, (_, i) => peak + (i - count) * step);
  const inside = [...cuts, ...steps].filter((cut) => cut > start && cut < end);
  const ends = [start, ...inside.sort((a, b) => a - b), end];
  const density = (z: number): number => Math.exp(-0.5 * z * z) / Math.sqrt(2 * Math.PI);
  return ends.slice(1).reduce((sum, right, i) => {
    return sum + panel((z) => density(z) * accepted(z), ends[i] as number, right);
  }, 0);
}
