import { above, atLeast, fail, finite, options, text } from "../base/check.js";
import { within } from "../base/input-error.js";
import type { Timeline } from "../base/sequence.js";
import type { Hertz, Seconds } from "../base/units.js";
import { renderChunks, walk } from "../timeline/index.js";
import { channelsOf } from "./profile-figure.js";
import type { StackedFigure } from "./specification.js";
import type { DrawnState } from "./state-names.js";
import type { Course } from "./time-axis.js";
import { checkCount, checkSamples, type Window, wavesFigure } from "./wave-panels.js";

/** Which waves, from when to when. */
export interface WaveformFigureOptions {
  readonly title: string;
  readonly timeline: Timeline;
  /** Default: every channel that is on at some time. */
  readonly channels?: readonly string[];
  /** Default 6400 Hz, 128 samples in a cycle of 50 Hz; harmonics may need more. */
  readonly sampleRate?: Hertz;
  /** Seconds since the start. Default: 40 ms before the state that starts the clock (else the second one). */
  readonly from?: Seconds;
  /** Default: 100 ms after `from`; no later than the end. */
  readonly to?: Seconds;
}

/**
 * What a source puts out, instant by instant, across a change of state: the samples of `render`, voltages and currents on
 * axes of their own.
 *
 * @returns A Vega-Lite specification with panels above one another on one axis of time.
 * @throws A {@link InputError} as `render` does, for a window outside the sequence, and for one with fewer than 2 samples or
 * more than 20,000.
 * Accuracy: as `render`.
 * @source phase reference of IEC/IEEE 60255-118-1
 *
 * @example
 * import { waveformFigure } from "tripwright/figure";
 * import { faultSequence } from "tripwright/timeline";
 * const timeline = faultSequence({
 *   before: { v: { rms: 60, frequency: 50 } }, fault: { v: { rms: 30, frequency: 50 } }, settleFor: 0.2, giveUpAfter: 0.2,
 *   wiring: { v: { quantity: "voltage", feeds: { va: 1 } } },
 * });
 * const figure = waveformFigure({ title: "Into the fault", timeline, from: 0.16, to: 0.26 });
 * figure.description; // → "Into the fault. v from 0.16 to 0.26 s, between -84.85 and 84.85; fault begins at 0.2 s."
 */
export function waveformFigure(given: WaveformFigureOptions): StackedFigure {
  const {
    title,
    timeline,
    sampleRate = 6400,
  } = options(given, ["title", "timeline", "channels", "sampleRate", "from", "to"]);
  text(title, "title", "a title");
  const { states, endedAt } = within("timeline", () => walk(timeline, []));
  const channels = channelsOf(timeline, given.channels);
  above(sampleRate, 0, "sampleRate", "a sample rate", "Hz");
  const window = windowOf(given, { states, endedAt });
  checkCount((window.to - window.from) * sampleRate * channels.length);
  const waves = (["voltage", "current"] as const).flatMap((quantity) =>
    channels
      .filter((name) => timeline.wiring[name]?.quantity === quantity)
      .map((name) => ({ quantity, course: waveOf(name, { timeline, sampleRate, ...window }) })),
  );
  checkSamples({ waves }, sampleRate, window);
  if (waves.length === 0) fail("missing", "channels", "one channel or more that is on at some time", channels);
  return wavesFigure({ title, window, states, waves });
}

function windowOf(
  { timeline, from, to }: WaveformFigureOptions,
  { states, endedAt }: { readonly states: readonly DrawnState[]; readonly endedAt: Seconds },
): Window {
  const clock = timeline.segments.findIndex((segment) => segment.clock === "starts");
  const change = states[clock < 0 ? 1 : clock]?.startedAt ?? 0;
  const first = from ?? Math.max(0, change - 0.04);
  atLeast(first, 0, "from", "a time since the start", "s");
  const last = to ?? Math.min(first + 0.1, endedAt);
  above(finite(last, "to", "a time since the start"), first, "to", "a time", "s");
  if (last > endedAt) fail("out-of-range", "to", `a time up to ${endedAt} s, where the sequence ends`, last);
  return { from: first, to: last };
}

interface Wanted extends Window {
  readonly timeline: Timeline;
  readonly sampleRate: Hertz;
}

function waveOf(name: string, { timeline, sampleRate, from, to }: Wanted): Course {
  const points: Course["points"][number][] = [];
  let n = 0;
  for (const chunk of renderChunks(timeline, { channel: name, sampleRate })) {
    for (const value of chunk) {
      const time = n++ / sampleRate;
      if (time >= from && time <= to) points.push({ time, value: value + 0, run: 0 });
    }
    if (n / sampleRate > to) break;
  }
  return { name, points };
}
