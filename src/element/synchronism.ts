/** 25: synchronism check. Two systems may be joined while their voltages are alike, close in angle and hardly slip. */
import { fail, object } from "../base/check.js";
import { within } from "../base/input-error.js";
import { plain, written } from "../base/written.js";
import { advanceAngle, mostSlip, voltagesApart } from "../characteristic/index.js";
import { band } from "../grading/index.js";
import { normalizeAngle } from "../phasor/index.js";
import type { Definition, Doubt, Observation } from "./definition.js";
import { observe } from "./definition.js";
import type { RelayInputs } from "./inputs.js";
import type { SynchronismSetting } from "./setting.js";
import { AROUND, synchronismEdges, synchronismStills, timerOf } from "./synchronism-edges.js";
import { inStep, OPPOSITE } from "./synchronism-poses.js";
import { type Side, type Sides, sidesOf } from "./synchronism-sides.js";

/** One side dead and the other live, where that is allowed: there is no angle to wait for. */
function mayCloseOntoDead(
  { running, incoming }: Sides,
  { deadClosing, deadBelow = 0, liveAbove = 0 }: SynchronismSetting,
): boolean {
  if (deadClosing === undefined) return false;
  const joins = (dead: Side, live: Side) => dead.size < deadBelow && live.size >= liveAbove;
  return (
    (deadClosing !== "incoming" && joins(running, incoming)) || (deadClosing !== "running" && joins(incoming, running))
  );
}

/**
 * The angle between the two sides at which the breaker closes; blocked while one of them is not live, the sizes differ by
 * too much, or the slip is too large.
 */
function read(inputs: RelayInputs, setting: SynchronismSetting): Observation {
  const sides = sidesOf(inputs, setting);
  if (mayCloseOntoDead(sides, setting)) return observe(0, setting, "under");
  const { running, incoming } = sides;
  const { liveAbove = 0, voltageDifference = Number.MAX_VALUE, slip: mostAllowed = Number.MAX_VALUE } = setting;
  const slip = incoming.frequency - running.frequency;
  const apart = voltagesApart({ incoming: incoming.voltage, running: running.voltage });
  const ahead = advanceAngle({ slip, closingTime: setting.closingTime ?? 0 });
  const isLive = [running, incoming].every(({ size }) => size >= liveAbove);
  const blocked = !isLive || Math.abs(apart.difference) > voltageDifference || Math.abs(slip) > mostAllowed;
  // Without one of them there is no angle.
  const angle = running.size > 0 && incoming.size > 0 ? apart.angle + ahead : OPPOSITE;
  return observe(Math.abs(normalizeAngle(angle)), setting, "under", { blocked });
}

function check({ pickup, accuracy, deadClosing, deadBelow, liveAbove }: SynchronismSetting): void {
  if (pickup > 90) fail("out-of-range", "pickup", "an angle of at most 90°", pickup);
  const { pickup: tolerance } = object(accuracy, "accuracy", "the accuracy { pickup, time }");
  const { nominal, low = nominal, high = nominal } = within("accuracy.pickup", () => band(pickup, tolerance));
  if (low <= 0 || high >= OPPOSITE)
    fail("out-of-range", "accuracy.pickup", `a tolerance below the ${pickup}° themselves`, accuracy.pickup);
  if (deadClosing === undefined) return;
  if (deadBelow === undefined) fail("missing", "deadBelow", "the voltage below which a side is dead", deadBelow);
  if (liveAbove === undefined) fail("missing", "liveAbove", "the voltage above which a side is live", liveAbove);
  if (deadBelow >= liveAbove) fail("conflict", "deadBelow", `a voltage below liveAbove, ${liveAbove} V`, deadBelow);
}

function doubts(setting: SynchronismSetting): Doubt[] {
  return [...doubtOfSlip(setting), ...doubtOfDead(setting)];
}

/** A slip at which the angle passes the window before the timer is done is never permitted, whatever the sheet says. */
function doubtOfSlip({ slip, pickup, law }: SynchronismSetting): Doubt[] {
  const timer = timerOf(law);
  const most = timer === 0 ? Number.MAX_VALUE : mostSlip({ window: pickup, timer });
  if (slip === undefined || slip <= most) return [];
  return [
    {
      field: "slip",
      expected: `at most ${written(plain(most, 4), "Hz")}, at which the angle stays within ${pickup}° on both sides for the ${timer} s of the timer`,
      received: written(slip, "Hz"),
    },
  ];
}

/** A threshold that nothing is compared with proves nothing. */
function doubtOfDead({ deadBelow, deadClosing }: SynchronismSetting): Doubt[] {
  if (deadBelow === undefined || deadClosing !== undefined) return [];
  return [
    {
      field: "deadBelow",
      expected:
        "deadClosing beside it, if a dead side may be closed onto: as it stands none may, and this is not proved",
      received: written(deadBelow, "V"),
    },
  ];
}

/** 25: synchronism check; it operates, which is a permission, while the angle is within its setting. */
export const synchronismCheck: Definition<SynchronismSetting> = {
  function: "25",
  title: "synchronism check",
  unit: "°",
  side: "under",
  source: "IEEE C37.2 device function 25; angle, difference and slip as common practice counts them",
  watches: ["a", "b", "c", "ab", "bc", "ca"],
  fields: ["voltageDifference", "slip", "liveAbove", "deadBelow", "deadClosing", "closingTime"],
  system: [],
  laws: ["definite"],
  instantaneous: true,
  contact: "permit",
  cautions: ["Isolate the closing circuit too: a synchronism check permits a breaker to be closed."],
  check,
  read,
  pose: (setting, setup) =>
    inStep(setting, setup, { moves: { incoming: { angle: 1 } }, note: "the incoming side leads" }),
  heldTo: ({ voltageDifference, liveAbove, slip }) => [
    ...((voltageDifference ?? liveAbove) === undefined ? [] : (["voltage"] as const)),
    ...(slip === undefined ? [] : (["frequency"] as const)),
  ],
  edges: synchronismEdges,
  stills: synchronismStills,
  doubts,
  healthyLevel: () => OPPOSITE,
  practice: {
    around: AROUND,
    beyond: { ratio: 0.5 },
    multiples: [],
    measuringCycles: 5,
    dropout: { difference: 1 },
  },
};
