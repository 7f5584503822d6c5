import type { Seconds } from "../base/units.js";
import { plain, written } from "../base/written.js";
import { mostSlip } from "../characteristic/index.js";
import { band, type Tolerance } from "../grading/index.js";
import { definiteTimeOf } from "./definite-time.js";
import type { Edge, Still } from "./definition.js";
import type { SynchronismSetting } from "./setting.js";
import type { Setup } from "./setup.js";
import { inStep, OPPOSITE, oneSide, sameOnBoth } from "./synchronism-poses.js";
import { type Sides, sidesOf } from "./synchronism-sides.js";

/** How far a sweep may go from its place at the most: as far as practice says, or a little over twice the tolerance. */
function reachOf(at: number, tolerance: Tolerance | undefined): number {
  if (tolerance === undefined) return at;
  const { nominal, low = nominal, high = nominal } = band(at, tolerance);
  return at + Math.max(AROUND.ratio * at, 2.5 * Math.max(high - nominal, nominal - low));
}

export const AROUND = { ratio: 0.2 };

/** What of the two sides a level is. */
const ofSides = (setting: SynchronismSetting, level: (sides: Sides) => number): Pick<Edge, "movesWith"> => ({
  movesWith: (inputs) => level(sidesOf(inputs, setting)),
});

export function synchronismEdges(setting: SynchronismSetting, setup: Setup): Edge[] {
  const around = AROUND;
  const lagging = inStep(setting, setup, { moves: { incoming: { angle: -1 } }, note: "the incoming side lags" });
  return [
    { name: "lagging", unit: "°", side: "under", at: setting.pickup, around, heldTo: "pickup", pose: lagging },
    ...differenceEdges(setting, setup),
    ...slipEdges(setting, setup),
    ...thresholds(setting, setup),
    ...advance(setting),
  ];
}

/** Either side is raised: were one lowered, it might no longer be live before the difference decides. */
function differenceEdges(setting: SynchronismSetting, setup: Setup): Edge[] {
  const { voltageDifference: at } = setting;
  if (at === undefined) return [];
  const difference = ofSides(setting, ({ running, incoming }) => incoming.size - running.size);
  const common = { unit: "V", side: "under", at, around: AROUND, heldTo: "voltage", ...difference } as const;
  const raised = (side: "running" | "incoming") =>
    inStep(setting, setup, {
      moves: { [side]: { rms: 1 } },
      note: `both sides in step; the ${side} voltage is higher by so much`,
    });
  return [
    { ...common, name: "higher", pose: raised("incoming") },
    { ...common, name: "lower", pose: raised("running") },
  ];
}

/**
 * The angle must stay in the window for longer than the timer runs, at every slip up to the largest that the tolerance
 * accepts; else the timer decides, and the limit of the slip does not show.
 */
function slipEdges(setting: SynchronismSetting, setup: Setup): Edge[] {
  const { slip: at, pickup, accuracy } = setting;
  if (at === undefined) return [];
  const { nominal, low = nominal, high = nominal } = band(pickup, accuracy.pickup);
  const timer = latestOf(setting);
  const accepted = accuracy.frequency === undefined ? undefined : band(at, accuracy.frequency);
  const fastest = accepted?.high ?? at;
  const slip = ofSides(setting, ({ running, incoming }) => incoming.frequency - running.frequency);
  const common = { unit: "Hz", side: "under", at, around: AROUND, heldTo: "frequency", ...slip } as const;
  const by = (frequency: 1 | -1, which: string): Edge["pose"] => {
    if (timer > 0 && mostSlip({ window: low, timer }) < fastest)
      return {
        kind: "none",
        reason: `at ${written(fastest, "Hz")}${fastest > at ? ", still within the tolerance," : ""} the angle passes the window in ${written(plain((2 * low) / 360 / fastest, 4), "s")}, too soon for the timer: it decides, and not the slip`,
      };
    if (frequency < 0 && reachOf(at, accuracy.frequency) >= setup.frequency)
      return { kind: "none", reason: `no frequency lies so far below ${written(setup.frequency, "Hz")}` };
    return inStep(setting, setup, {
      moves: { incoming: { frequency } },
      note: `equal voltages; the incoming side is ${which} by so much and turns past the other: at each slip wait for a whole turn. The reading is the first slip at which it permits; the permission goes again as the angle turns on`,
    });
  };
  // A whole turn and a pass: wherever the angle stands as the level begins, one pass through the window is not cut.
  const waits = (slip: number): Seconds => Math.ceil((1 + high / 180) / slip + timer + 2 * setting.measuringDelay);
  return [
    { ...common, name: "faster", pose: by(1, "faster"), waits },
    { ...common, name: "slower", pose: by(-1, "slower"), waits },
  ];
}

/** When it permits at the latest, counted from where the angle comes into the window. */
function latestOf({ law, accuracy, measuringDelay }: SynchronismSetting): Seconds {
  const { nominal, high = nominal } = band(timerOf(law), accuracy.time);
  return Math.max(high, measuringDelay);
}

/** Where a side counts as live, and as dead where closing onto a dead side is allowed. */
function thresholds(setting: SynchronismSetting, setup: Setup): Edge[] {
  const { liveAbove, deadBelow, deadClosing, watches } = setting;
  const live: Edge[] =
    liveAbove === undefined
      ? []
      : [
          {
            name: "live",
            unit: "V",
            side: "over",
            at: liveAbove,
            around: AROUND,
            heldTo: "voltage",
            pose: sameOnBoth(watches, setup),
            ...ofSides(setting, ({ running, incoming }) => Math.min(running.size, incoming.size)),
          },
        ];
  if (deadClosing === undefined || deadBelow === undefined) return live;
  const dead = (side: "running" | "incoming"): Edge => ({
    name: `dead-${side}`,
    unit: "V",
    side: "under",
    at: deadBelow,
    around: AROUND,
    heldTo: "voltage",
    ...ofSides(setting, ({ [side]: dead }) => dead.size),
    pose: inStep(setting, setup, {
      moves: { [side]: { rms: 1 } },
      note: `the ${side} voltage alone, the other side at rated voltage in opposition`,
      // In opposition nothing but the dead side can make it permit.
      ...(side === "running"
        ? { running: { rms: 0 }, incoming: { angle: OPPOSITE } }
        : { incoming: { rms: 0, angle: OPPOSITE } }),
    }),
  });
  const sides = deadClosing === "either" ? (["running", "incoming"] as const) : [deadClosing];
  return [...live, ...sides.map(dead)];
}

/** What the closing time of the breaker adds shows only while the angle turns, and no level stands still there. */
const advance = ({ closingTime, pickup }: SynchronismSetting): Edge[] =>
  closingTime === undefined
    ? []
    : [
        {
          name: "advance",
          unit: "°",
          side: "under",
          at: pickup,
          around: AROUND,
          heldTo: "pickup",
          pose: {
            kind: "none",
            reason: `the closing time of ${written(closingTime, "s")} moves the window only while the angle turns, by 360° · slip · time: take a record of the angle at which the contact closes`,
          },
        },
      ];

/** The time of the timer; the law of a synchronism check is a definite one. */
export const timerOf = (law: SynchronismSetting["law"]): Seconds => definiteTimeOf(law) ?? 0;

/** A dead side must not be closed onto unless that is allowed. */
export function synchronismStills(setting: SynchronismSetting, setup: Setup): Still[] {
  const { deadClosing } = setting;
  const sides = (["running", "incoming"] as const).filter((side) => deadClosing !== side && deadClosing !== "either");
  return sides.map((side) => ({
    name: `dead-${side}`,
    level: 0,
    why: `the ${side} side is dead, and closing onto it is not allowed`,
    pose: oneSide(side, setting, setup),
  }));
}
