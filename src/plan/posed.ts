/** The element under check in front of a healthy system. */
import type { Answer } from "../base/answer.js";
import type { ChannelStates, Piece, Timeline } from "../base/sequence.js";
import type { Seconds } from "../base/units.js";
import { written } from "../base/written.js";
import { type ElementSetting, healthy, inputsOf, type Pose, standingAt } from "../element/index.js";
import type { RelaySettings } from "../sheet/index.js";
import { ramp } from "../timeline/index.js";
import type { Sweep } from "./check.js";
import { armingLevelOf, definition } from "./started.js";

/** A pose of the element under check in front of a healthy system. */
export interface Posed extends Pose {
  readonly healthyLevel: number;
}

/** The element's own channels on top of healthy others. */
export function poseInFrontOf(element: ElementSetting, settings: RelaySettings): Answer<Posed, string> {
  const { pose, healthyLevel, unit, read } = definition(element);
  const posed = inFrontOfHealthy(pose(element, settings.setup), healthyLevel(element, settings.setup), settings);
  const armAbove = armingLevelOf(element);
  if (posed.kind === "none" || armAbove === undefined) return posed;
  // It has to see the healthy system first: a sweep may begin below what arms it.
  const before = healthyBefore(posed);
  if (read(inputsOf(before, posed.wiring), element).arms) return { ...posed, healthy: before };
  return {
    kind: "none",
    reason: `waits for more than ${written(armAbove, unit)}, which the healthy system from this source does not show it`,
  };
}

/** The channels of a pose on top of healthy others. */
export function inFrontOfHealthy(
  posed: Answer<Pose, string>,
  healthyLevel: number,
  { setup }: RelaySettings,
): Answer<Posed, string> {
  if (posed.kind === "none") return posed;
  const rest = healthy(setup);
  return {
    kind: "found",
    base: { ...rest.states, ...posed.base },
    lever: posed.lever,
    wiring: { ...rest.wiring, ...posed.wiring },
    healthyLevel,
    ...(posed.note !== undefined && { note: posed.note }),
    ...(posed.statesAt && { statesAt: posed.statesAt }),
    ...(posed.healthy && { healthy: { ...rest.states, ...posed.healthy } }),
  };
}

/** The channel states of the healthy system in front of an injection. */
export const healthyBefore = (posed: Posed): ChannelStates => posed.healthy ?? standingAt(posed, posed.healthyLevel);

/** Long enough for a relay to know the voltages from before the fault. */
const PRE_FAULT: Seconds = 2;

/** How long a sweep begins with the healthy system: a relay may take its direction from there. */
export const preFaultOf = ({ healthy }: Posed): Pick<Sweep, "preFault"> =>
  healthy === undefined ? {} : { preFault: PRE_FAULT };

/** The sequence in which a level moves through pieces, from the healthy system where that is no level. */
export function movedThrough(pieces: readonly Piece[], posed: Posed): Timeline {
  const { wiring, segments } = levelsThrough(pieces, posed);
  if (posed.healthy === undefined) return { wiring, segments };
  return { wiring, segments: [{ name: "pre-fault", duration: PRE_FAULT, channels: posed.healthy }, ...segments] };
}

/** Where no lever leads to a level, each piece stands still at its own. */
function levelsThrough(pieces: readonly Piece[], posed: Posed): Timeline {
  const { base, lever, wiring, statesAt } = posed;
  if (statesAt === undefined) return ramp({ base, lever, pieces, wiring });
  const segments = pieces.flatMap(
    (piece) => ramp({ base: standingAt(posed, piece.from), lever: {}, pieces: [piece], wiring }).segments,
  );
  return { wiring, segments };
}
