import { levels, linearRamp, render, staircase, stateAt, stepsWithRest, totalTime } from "tripwright/timeline";
import { number } from "../given.js";
import type { Answers, Ask } from "../harness.js";
import type { Inputs } from "../table.js";
import { chirp, phaseContinuity, stateJump } from "./phase.js";
import { alongLevels, states } from "./sequences.js";

const range = (inputs: Inputs) => ({
  from: number(inputs, "start"),
  to: number(inputs, "stop"),
  step: number(inputs, "step"),
});

function steps(inputs: Inputs): Answers {
  if ("span" in inputs) {
    const grid = levels({ from: 0, to: number(inputs, "span"), step: number(inputs, "step") });
    return { exact_floor: grid.length - 1 };
  }
  const grid = levels(range(inputs));
  return {
    count_with_clamped_last: grid.length,
    first_values: grid.slice(0, number(inputs, "shown_first")),
    last_values: grid.slice(-number(inputs, "shown_last")),
  };
}

function rampTimes(inputs: Inputs): Answers {
  const { from, to, step } = range(inputs);
  const rate = number(inputs, "rate_per_s");
  const time = (start: number, end: number): number => linearRamp({ from: start, to: end, rate })[0]?.duration ?? 0;
  const all = levels({ from, to, step });
  const [last, previous] = [all.at(-1) as number, all.at(-2) as number];
  const even = Math.abs(Math.abs(last - previous) - step) < step / 1000;
  const grid = even ? all : all.slice(0, -1);
  const top = grid.at(-1) as number;
  return {
    step_time_s: time(0, step),
    full_steps: grid.length - 1,
    levels_including_start: grid.length,
    ramp_time_to_last_grid_level_s: time(from, top),
    total_time_if_each_level_held_step_time_s: totalTime(
      alongLevels(staircase({ from, to: top, step, dwell: time(0, step) })),
    ),
    ideal_continuous_time_s: time(from, to),
    time_for_clamped_partial_step_s: time(top, to),
  };
}

/** Pre-fault once, then pulse and rest in turn; without rest it is a staircase. */
function dwell(inputs: Inputs): Answers {
  const [hold, restTime, before] = [
    number(inputs, "pulse_time_s"),
    number(inputs, "reset_time_s"),
    number(inputs, "prefault_s"),
  ];
  const pulses =
    restTime === 0
      ? staircase({ ...range(inputs), dwell: hold })
      : stepsWithRest({ ...range(inputs), rest: 0, restTime, hold }).slice(1);
  const pieces = before === 0 ? pulses : [{ duration: before, from: 0, to: 0 }, ...pulses];
  const timeline = alongLevels(pieces);
  const timeOf = (count: number): number =>
    count === 0 ? 0 : totalTime({ ...timeline, segments: timeline.segments.slice(0, count) });
  const places = pieces.flatMap(({ to }, place) => (to === 0 ? [] : [place]));
  return {
    levels: places.length,
    total_time_s: totalTime(timeline),
    total_time_without_final_reset_s: timeOf((places.at(-1) as number) + 1),
    level_k_starts_at_s: places.map(timeOf),
  };
}

/** Samples are counted over ten states, so that a tenth of one shows. */
function sampleClock(inputs: Inputs): Answers {
  const state = { duration: number(inputs, "time_s"), state: { rms: 1, frequency: 50 } };
  const record = render(states(...Array.from({ length: 10 }, () => state)), {
    channel: "i",
    sampleRate: number(inputs, "fs_Hz"),
  });
  return { exact_samples: record.length / 10 };
}

/** The row does not say where its ramp would end; anything beyond the reading serves. */
function readback(inputs: Inputs): Answers {
  const pieces = linearRamp({ from: number(inputs, "start"), to: 120, rate: number(inputs, "rate_per_s") });
  const at = (t: number): number => stateAt(alongLevels(pieces), t).channels["i"]?.rms ?? Number.NaN;
  const trip = number(inputs, "trip_time_s");
  return { value_at_trip: at(trip), value_corrected_for_delay: at(trip - number(inputs, "operate_delay_s")) };
}

export const timeline: { readonly [table: string]: Ask } = {
  "timeline/levels": steps,
  "timeline/total-time": (inputs) => ({
    exact: totalTime(
      states(
        ...[number(inputs, "a"), number(inputs, "b")]
          .filter((duration) => duration > 0)
          .map((duration) => ({ duration, state: { rms: 1, frequency: 50 } })),
      ),
    ),
  }),
  "timeline/ramp-times": rampTimes,
  "timeline/crossing-time": (inputs) => ({
    crossing_time_s:
      linearRamp({
        from: number(inputs, "f_start_Hz"),
        to: number(inputs, "f_threshold_Hz"),
        rate: Math.abs(number(inputs, "rate_Hz_per_s")),
      })[0]?.duration ?? Number.NaN,
  }),
  "timeline/dwell": dwell,
  "timeline/chirp": chirp,
  "timeline/phase-continuity": phaseContinuity,
  "timeline/state-jump": stateJump,
  "timeline/readback": readback,
  "timeline/sample-clock": sampleClock,
};
