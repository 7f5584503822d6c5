/** Which changes of contacts are operations, and how long they took. */
import { decimal, larger, toNumber } from "../base/exact.js";
import type { ContactChange } from "../base/sequence.js";
import type { Seconds } from "../base/units.js";
import type { ContactEvent, Edge } from "./contacts.js";
import { lastCrossing, type Path } from "./crossing.js";
import { isBefore, matches, type Run } from "./run-through.js";

/** An operation and its time. */
export interface Operation {
  /** The change of a contact that counts as the operation. */
  readonly operatedOn: ContactEvent;
  /** Seconds from the start of the run. */
  readonly elapsed: Seconds;
  /** Seconds from where its clock started; absent where the threshold was not crossed before it. */
  readonly operateTime?: Seconds;
  /** The place of the state in which it fell. */
  readonly index: number;
}

/** An edge and the place of the state to which it belongs. */
export interface Placed {
  readonly edge: Edge;
  readonly state: number;
}

/**
 * An edge belongs to the state that it ended, otherwise to the one that was running, or began, at its instant. In the
 * order of the states: of two edges at one boundary, the one that ended a state comes first.
 */
export function placed(edges: readonly Edge[], runs: readonly Run[]): readonly Placed[] {
  const ended = new Map(runs.map(({ endedBy }, i) => [endedBy, i]));
  let running = 0;
  const places = edges.map((edge) => {
    while (running + 1 < runs.length && !isBefore(edge.at, (runs[running + 1] as Run).start)) running++;
    return { edge, state: ended.get(edge) ?? running };
  });
  return places.sort((a, b) => a.state - b.state);
}

/** How a sequence ran, and what the caller wants to know of it. */
interface Timing {
  readonly runs: readonly Run[];
  readonly operation: Partial<ContactChange> | undefined;
  /** How the quantity moved whose threshold starts the time. */
  readonly path: Path | undefined;
}

/** After each start of the clock, the change that counts as the operation, where there is one; and what came in pre-fault. */
export function operationsOf(
  places: readonly Placed[],
  timing: Timing,
): { readonly operations: readonly Operation[]; readonly before: readonly ContactEvent[] } {
  const { runs, operation } = timing;
  const clocks = clocksOf(runs);
  const waiting = new Set(clocks.filter((_, i) => runs[i]?.segment.endsOn !== undefined));
  const before: ContactEvent[] = [];
  const found = new Map<number, Operation>();
  for (const place of places) {
    const [clock, run] = [clocks[place.state] as number, runs[place.state] as Run];
    if (clock === BEFORE) before.push(place.edge.event);
    if (clock === BEFORE || found.has(clock)) continue;
    const counts =
      operation === undefined && waiting.has(clock)
        ? run.endedBy === place.edge
        : matches(place.edge, operation ?? { to: "closed" });
    if (counts) found.set(clock, timed(place, clock, timing));
  }
  return { operations: [...found.values()], before };
}

/** The state is pre-fault: its clock has not started yet. */
const BEFORE = -1;
/** There is no clock at all. */
const NONE = -2;

/**
 * For each state, the place of the one at which its clock started. What stands right before a start of the clock is
 * pre-fault, in later parts of a joined sequence too: nothing in it may pass for a late operation of an earlier fault.
 */
function clocksOf(runs: readonly Run[]): readonly number[] {
  const isStart = (i: number) => runs[i]?.segment.clock === "starts";
  let clock = runs.some((_, i) => isStart(i)) ? BEFORE : NONE;
  return runs.map((_, i) => {
    if (isStart(i)) clock = i;
    return isStart(i + 1) && !isStart(i) ? BEFORE : clock;
  });
}

/** The operation with its time, from the start of a state or from the last crossing of the threshold. */
function timed({ edge, state }: Placed, clock: number, { runs, path }: Timing): Operation {
  const start = (i: number) => (runs[i] as Run).start;
  const from =
    path === undefined
      ? start(clock === NONE ? state : clock)
      : lastCrossing(path, { since: start(clock === NONE ? 0 : clock), until: edge.at });
  return {
    operatedOn: edge.event,
    elapsed: toNumber(edge.at, "at"),
    ...(from !== undefined && { operateTime: toNumber(larger(decimal(0, ""), edge.at.minus(from)), "at") }),
    index: state,
  };
}
