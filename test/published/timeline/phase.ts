/** Where in its cycle a channel is when its frequency moves, changes, or its angle is set anew. */
import { render, stateAt, type Timeline, totalTime } from "tripwright/timeline";
import { number } from "../given.js";
import type { Answers } from "../harness.js";
import type { Inputs } from "../table.js";
import { states } from "./sequences.js";

const phaseAt = (timeline: Timeline, t: number): number => stateAt(timeline, t).channels["i"]?.phase ?? Number.NaN;

/** The times of the rows are on this clock. */
const SAMPLE_RATE = 10_000;

/** The sample of a record at an instant, in units of the peak; states have an rms value of 1. */
const sampleAt = (timeline: Timeline, t: number): number =>
  (render(timeline, { channel: "i", sampleRate: SAMPLE_RATE })[Math.round(t * SAMPLE_RATE)] ?? Number.NaN) / Math.SQRT2;

export function chirp(inputs: Inputs): Answers {
  const [f0, f1, duration] = [number(inputs, "f0_Hz"), number(inputs, "f1_Hz"), number(inputs, "duration_s")];
  const slope = { frequency: (f1 - f0) / duration };
  const angle = number(inputs, "phi0_deg");
  const ramp = { duration, state: { rms: 1, frequency: f0, angle, slope } };
  const timeline = states(ramp);
  // The sample at the end is the first of what comes after.
  const andAfter = states(ramp, { duration: 1, state: { rms: 1, frequency: f1, angle } });
  return {
    end_phase_wrapped_deg: phaseAt(timeline, duration),
    mid_phase_wrapped_deg: phaseAt(timeline, duration / 2),
    value_cos_at_end: sampleAt(andAfter, duration),
  };
}

export function phaseContinuity(inputs: Inputs): Answers {
  const list = inputs["segments"] as readonly Inputs[];
  const timeline = states(
    ...list.map((segment) => ({
      duration: number(segment, "duration_s"),
      state: { rms: 1, frequency: number(segment, "f_Hz"), angle: number(inputs, "phi0_deg") },
    })),
  );
  const end = totalTime(timeline);
  const starts = list.map((_, i) =>
    i === 0 ? 0 : totalTime({ ...timeline, segments: timeline.segments.slice(0, i) }),
  );
  return {
    phase_at_start_deg: starts.map((start) => phaseAt(timeline, start)),
    end_phase_wrapped_deg: phaseAt(timeline, end),
    end_time_s: end,
  };
}

export function stateJump(inputs: Inputs): Answers {
  const [frequency, duration] = [number(inputs, "f_Hz"), number(inputs, "t_change_s")];
  const state = (name: string) => ({ duration, state: { rms: 1, frequency, angle: number(inputs, name) } });
  const before = sampleAt(states(state("angle_before_deg"), state("angle_before_deg")), duration);
  const after = sampleAt(states(state("angle_before_deg"), state("angle_after_deg")), duration);
  return { value_before: before, value_after_absolute_reference: after, jump_absolute: after - before };
}
