/**
 * Samples of a record, from any one to any other. They are made in pieces counted from the first sample of their state, so
 * that every sample is the same to the bit however a record is divided.
 */
import { addChirp, fillChirp } from "../base/chirp.js";
import { addDecay } from "../base/decay.js";
import { add, fraction, multiply } from "../base/double-double.js";
import { addTone, fillTone } from "../base/synthesis.js";
import type { Span, Wave } from "./spans.js";

/** Samples in a piece: so many that what it costs to begin one does not show. */
const PIECE = 131_072;

/**
 * Fills arrays with the samples of a record one after the other, from its first one on. A piece that does not fit is kept
 * for the next array.
 */
export function filler(spans: readonly Span[]): (out: Float64Array) => void {
  let [next, index] = [0, 0];
  let kept = new Float64Array(0);
  return (out) => {
    for (let filled = 0; filled < out.length; ) {
      const span = spans[index] as Span;
      const skip = next - span.first;
      const begun = skip % PIECE;
      const length = Math.min(PIECE, span.count - (skip - begun));
      const part = out.subarray(filled, filled + length - begun);
      if (part.length === length) fillPiece(part, span, skip);
      else {
        if (begun === 0) {
          kept = new Float64Array(length);
          fillPiece(kept, span, skip);
        }
        part.set(kept.subarray(begun, begun + part.length));
      }
      filled += part.length;
      next += part.length;
      if (next === span.first + span.count) index++;
    }
  };
}

/** Fills `out` with samples of a span from the one that is `skip` behind its first. */
function fillPiece(out: Float64Array, { waves, offset, decay }: Span, skip: number): void {
  const [first, ...others] = waves.map((wave) => ahead(wave, skip));
  if (first === undefined) out.fill(offset);
  else if (isTone(first)) fillTone(out, first, offset);
  else fillChirp(out, first, offset);
  for (const wave of others) {
    if (isTone(wave)) addTone(out, wave);
    else addChirp(out, wave);
  }
  if (decay !== undefined) addDecay(out, { ...decay, initial: decay.initial * Math.exp(decay.rate * skip) });
}

const isTone = ({ peakStep, bend }: Wave): boolean => peakStep === 0 && bend[0] === 0;

/** The same cosine some samples later. */
function ahead(wave: Wave, skip: number): Wave {
  const { peak, peakStep, turn, step, bend } = wave;
  const half = multiply(bend, [skip / 2, 0]);
  return {
    ...wave,
    peak: peak + peakStep * skip,
    turn: turn + fraction(multiply(add(step, half), [skip, 0])),
    step: add(step, multiply(bend, [skip, 0])),
  };
}
