import { above, fail, nameIn, options, whole } from "../base/check.js";
import { room } from "../base/doubles.js";
import type { Timeline } from "../base/sequence.js";
import type { Hertz } from "../base/units.js";
import { stateOf } from "./channel-phase.js";
import { checkTimeline } from "./check-timeline.js";
import { filler } from "./fill-record.js";
import { type Spans, spansOf } from "./spans.js";

/** Which channel, on which sample clock. */
export interface RenderOptions {
  readonly channel: string;
  /** Above twice the highest frequency that the channel reaches, harmonics included. */
  readonly sampleRate: Hertz;
}

/** How much of a record is made at a time. */
export interface RenderChunksOptions extends RenderOptions {
  /** Samples in a chunk; the last one may be shorter. Default 131,072. */
  readonly chunk?: number;
}

/** A gigabyte of doubles. */
const MOST_SAMPLES = 2 ** 27;

/**
 * The samples of a channel through every change of a sequence. Sample n is taken at n/sampleRate from the start; those before
 * the end belong to the record, so that records join without a gap.
 *
 *     x(t) = √2 · rms · cos(θ + angle) + offset + decay + harmonics,   θ = 360 · ∫ frequency dt since the start
 *
 * A change of frequency never jumps; a change of angle or rms does. Harmonics run at their order times θ, each with its
 * own angle; a slope of rms or angle moves the fundamental alone. A channel that is off gives 0, and runs on unseen.
 *
 * @param out - Filled and returned where it is given; its length must be that of the record.
 * @returns Instantaneous values in the unit of the channel.
 * @throws A {@link InputError} for a channel that is not wired, a sample rate that is not above twice the highest
 * frequency, an `out` of another length, and with the count for more than 2^27 samples.
 * Accuracy: 5e-13 of the peaks, however long the record.
 * @source phase reference of IEC/IEEE 60255-118-1
 *
 * @example
 * import { faultSequence, render } from "tripwright/timeline";
 * const timeline = faultSequence({
 *   before: { v: { rms: 60, frequency: 50 } },
 *   fault: { v: { rms: 30, frequency: 50 } },
 *   settleFor: 0.04,
 *   giveUpAfter: 0.02,
 *   wiring: { v: { quantity: "voltage", feeds: { va: 1 } } },
 * });
 * const samples = render(timeline, { channel: "v", sampleRate: 4000 });
 * samples.length; // → 240
 * samples[0]?.toFixed(3); // → "84.853"
 * samples[160]?.toFixed(3); // → "42.426"
 */
export function render(timeline: Timeline, given: RenderOptions, out?: Float64Array): Float64Array {
  options(given, ["channel", "sampleRate"]);
  const { spans, count } = spansFor(timeline, given);
  if (count > MOST_SAMPLES) {
    const most = `at most ${MOST_SAMPLES} samples at once (renderChunks makes longer records)`;
    fail("too-many", "sampleRate", most, `${count} samples`);
  }
  const samples = room(out, count);
  filler(spans)(samples);
  return samples;
}

/**
 * The same record piece by piece, for records longer than memory: each chunk is an array of its own, and
 * every sample is the same to the bit as that of {@link render}.
 *
 * @throws A {@link InputError} at once, as {@link render} does but for the count; for a chunk that is no count from 1 to
 * 2^27.
 * Accuracy: as {@link render}.
 * @source as {@link render}
 *
 * @example
 * import { ramp, renderChunks } from "tripwright/timeline";
 * const hour = ramp({
 *   base: { v: { rms: 60, frequency: 0 } }, lever: { v: { frequency: 1 } },
 *   pieces: [{ duration: 3600, from: 50, to: 51 }],
 *   wiring: { v: { quantity: "voltage", feeds: { va: 1 } } },
 * });
 * const [first] = renderChunks(hour, { channel: "v", sampleRate: 1e6, chunk: 1000 });
 * first?.length; // → 1000
 */
export function renderChunks(timeline: Timeline, given: RenderChunksOptions): Generator<Float64Array, void, undefined> {
  const { chunk = 131_072 } = options(given, ["channel", "sampleRate", "chunk"]);
  whole(chunk, [1, MOST_SAMPLES], "chunk", "a number of samples");
  const record = spansFor(timeline, given);
  if (record.count > Number.MAX_SAFE_INTEGER) {
    fail("too-many", "sampleRate", "samples that can be counted, up to 2^53 − 1", `${record.count} samples`);
  }
  return chunksOf(record, chunk);
}

function* chunksOf({ spans, count }: Spans, chunk: number): Generator<Float64Array, void, undefined> {
  const fill = filler(spans);
  for (let first = 0; first < count; first += chunk) {
    const samples = new Float64Array(Math.min(chunk, count - first));
    fill(samples);
    yield samples;
  }
}

function spansFor(timeline: Timeline, { channel, sampleRate }: RenderOptions): Spans {
  checkTimeline(timeline);
  nameIn(channel, timeline.wiring, "channel");
  above(sampleRate, 2 * highestOf(timeline, channel), "sampleRate", "a sample rate", "Hz, twice the highest frequency");
  return spansOf(timeline, channel, sampleRate);
}

/** The highest frequency that the channel reaches, harmonics included; an angle that moves evenly is a frequency too. */
function highestOf({ segments }: Timeline, channel: string): Hertz {
  return segments.reduce((highest, segment) => {
    const { frequency = 0, slope = {}, harmonics = [] } = stateOf(segment, channel) ?? {};
    const end = frequency + (slope.frequency ?? 0) * segment.duration;
    const turning = (slope.angle ?? 0) / 360;
    const orders = harmonics.map(({ order }) => order * Math.max(frequency, end));
    return Math.max(highest, Math.abs(frequency + turning), Math.abs(end + turning), ...orders);
  }, 0);
}
