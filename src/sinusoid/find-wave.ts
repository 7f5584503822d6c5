import { fail } from "../base/check.js";
import { componentsOf, uncertaintiesOf } from "./component.js";
import { fitHarmonics, type HarmonicFit } from "./harmonic-fit.js";
import { energyAlong, liveliest, withoutLine } from "./liveliest.js";
import { strongSteps } from "./strongest.js";
import { highestOrder, type Trace } from "./trace.js";

/** A distorted wave must repeat for so many cycles before it tells its frequency. */
const TELLING = 1.4;
/** Cycles of a wave that cannot be taken for the creeping of an offset. */
const MANY = 3;
/** A wave that leaves less than this share of the rms of the samples is taken, and no other start is tried. */
const WELL = 0.5;

/** As many orders as given, at a step that is kept. */
const fitAt = (values: Float64Array, step: number, orders: number) =>
  fitHarmonics(values, { step, highest: () => orders, free: false }) as HarmonicFit;

/**
 * The wave in samples with its level and harmonics, near a step or the lowest strong one; the level alone where nothing
 * stands out of the rest.
 */
export function findWave(trace: Trace, known: number | undefined, grain: number): HarmonicFit {
  const { values, count, half } = trace;
  const level = fitAt(values, 0, 0);
  if (half === 0) return level;
  const rest = withoutLine(values);
  const energy = energyAlong(rest);
  const free = known === undefined || known * count > TELLING;
  const waveNear = (step: number) => search(trace, { step, free, grain, energy, rms: level.residual });
  if (known !== undefined) return waveNear(known) ?? level;
  // A cycle or less that explains half of the power: the record is too short to tell its frequency.
  const slow = (step: number) => step * count < TELLING && explainsHalf(values, step, level.residual);
  let [short, best]: [boolean, HarmonicFit | undefined] = [false, undefined];
  for (const step of strongSteps(values, energy)) {
    const wave = waveNear(step);
    short = best === undefined && (wave ? wave.step * count < TELLING : slow(step));
    if (short) break;
    best = better(best, wave);
    if (best && best.residual < WELL * level.residual) break;
  }
  if (best) return best;
  // What is slow may be an offset that creeps.
  const creeping = fitAt(rest, 0, 0).residual;
  for (const step of strongSteps(rest, energy)) {
    if (step * count < MANY || !explainsHalf(rest, step, creeping)) continue;
    const wave = waveNear(step);
    if (wave) return wave;
  }
  if (short) fail("wrong-length", "samples", "a cycle and a half or more, or the frequency as an option", count);
  return level;
}

interface Start {
  readonly step: number;
  readonly free: boolean;
  readonly grain: number;
  readonly energy: Float64Array;
  /** Of the samples about their level. */
  readonly rms: number;
}

/** The wave near a step, from the middle of the record or from where it is liveliest; absent where it does not stand out. */
function search(trace: Trace, { step, free, grain, energy, rms }: Start): HarmonicFit | undefined {
  const { values, count } = trace;
  // A sample more than there are unknowns.
  const most = Math.min(50, count / 2 - 1 - Number(free));
  const highest = (at: number): number => highestOrder(at, count, most);
  const waveFrom = (from?: (reach: number) => number): HarmonicFit | undefined => {
    const fit = fitHarmonics(values, { step, highest, free, close: 1e-3, from, grain });
    return typeof fit === "string" || !standsOut(fit, trace, free) ? undefined : fit;
  };
  const first = waveFrom();
  if (!free || (first && first.residual < WELL * rms)) return first;
  // A dip or a jump in the middle of the record leads astray.
  const second = waveFrom((reach) => liveliest(energy, reach));
  return better(first, second);
}

/** The one that leaves less; the first of two that leave the same. */
const better = (first?: HarmonicFit, second?: HarmonicFit): HarmonicFit | undefined =>
  first && !(second && second.residual < first.residual) ? first : second;

/** Whether a sinusoid alone takes half of the power. */
const explainsHalf = (values: Float64Array, step: number, rms: number): boolean =>
  fitAt(values, step, 1).residual < Math.SQRT1_2 * rms;

/** Whether a fundamental stands out of the rest; of less than a cycle there is too little to hold the orders apart. */
function standsOut(fit: HarmonicFit, trace: Trace, free: boolean): boolean {
  // Of so many lines of pure noise the strongest has √(2 ln count) standard uncertainties.
  const least = Math.sqrt(2 * Math.log(trace.count)) + 1.5;
  return (
    (!free || fit.step * trace.count >= 1) &&
    componentsOf(fit, trace)[0]!.rms > least * uncertaintiesOf(fit, trace, 1).rms
  );
}
