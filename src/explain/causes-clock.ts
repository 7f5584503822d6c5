/** Causes in the taking of times: where the clock starts and stops, and what its numbers are taken for. */
import { standardCurve } from "../curve/index.js";
import type { ElementSetting } from "../element/index.js";
import { statesBefore } from "./asked.js";
import { inWords } from "./in-words.js";
import type { Cause, Way } from "./situation.js";
import type { Taken } from "./taken.js";

/** How long the states last before the clock should start. */
const preFault = (taken: Taken): number => statesBefore(taken).reduce((sum, { duration }) => sum + duration, 0);

export const timerFromPrefault: Cause = {
  name: "timer-from-prefault",
  touches: "element",
  lookAt: "See what starts the timer: it has to run from the step to the fault, not from the healthy state before.",
  ways: () => [
    {
      differs: () => ({ timeWritten: (time, taken) => time + preFault(taken) }),
      says: () => "The timer may have been started with the healthy state before the fault.",
    },
  ],
};

export const breakerTime: Cause = {
  name: "breaker-time",
  touches: "contact",
  lookAt: "See which contact stops the timer: the relay's own, an auxiliary relay, or the breaker.",
  ways: () => [
    {
      free: { name: "added time", unit: "s", from: 0.005, to: 0.3 },
      differs: (x) => ({ contactTime: (time) => time + x }),
      says: (x) => `The time of a breaker or an auxiliary contact, ${inWords(x, "s")}, may be in the reading.`,
    },
  ],
};

/** All times of the element times a factor. */
const timesBy =
  (factor: number): Way["differs"] =>
  () => ({ timeWritten: (time) => time * factor });

export const cyclesForSeconds: Cause = {
  name: "cycles-for-seconds",
  touches: "element",
  lookAt: "See whether the timer and the setting are in cycles or in seconds.",
  ways: ({ settings: { setup } }): Way[] => [
    {
      which: "cycles written",
      differs: timesBy(setup.frequency),
      says: () => "Cycles may have been written where seconds belong.",
    },
    {
      which: "seconds written",
      differs: timesBy(1 / setup.frequency),
      says: () => "Seconds may have been taken for cycles, in the reading or in the setting.",
    },
  ],
};

export const otherFrequency: Cause = {
  name: "other-frequency",
  touches: "element",
  lookAt: "See for which frequency cycles were counted, and for which the relay is set.",
  ways: (): Way[] =>
    (
      [
        ["50 Hz for 60 Hz", 60 / 50],
        ["60 Hz for 50 Hz", 50 / 60],
      ] as const
    ).map(([which, factor]) => ({
      which,
      differs: timesBy(factor),
      says: () =>
        `Cycles of the other system frequency may have been counted: times are ${inWords(factor)} times as long.`,
    })),
};

/** A disk, or what imitates one. */
const mayLag = ({ law: { curve, reset } }: ElementSetting): boolean =>
  reset?.form !== "instantaneous" && (typeof curve === "string" ? standardCurve(curve) : curve).form === "inverse";

export const diskNotReset: Cause = {
  name: "disk-not-reset",
  touches: "element",
  lookAt: "See how long the element rested between repeated injections, and how long it takes to run back.",
  ways: ({ setting }): Way[] =>
    mayLag(setting)
      ? [
          {
            free: { name: "travel left", unit: "1", from: 0, to: 0.98 },
            differs: (x) => ({ contactTime: (time, { key }) => (key.repeat > 1 ? time * (1 - x) : time) }),
            says: (x) => `Repeats may have begun with ${inWords(100 * x)} % of the way still travelled.`,
          },
        ]
      : [],
};
