import type { Answer } from "../base/answer.js";
import { fail, failType, list } from "../base/check.js";
import { type PickupSearch, type ReadSearch, readSearch } from "./pickup-search.js";
import { METHODS, type Searching, type Trial, type Way } from "./search-way.js";

/** Where the function picks up: between the last quiet level and the first operated one. */
export interface FoundPickup {
  /** The first level at which it operated, which is what is written down: `high` of an over function, `low` of an under. */
  readonly pickup: number;
  /** The last level at which it stayed quiet: the other end. */
  readonly quiet: number;
  /** The smaller of the two. */
  readonly low: number;
  /** The larger of the two. */
  readonly high: number;
  /** How many trials it took, with those of the dropout. */
  readonly injections: number;
  /** Where the dropout was asked for. */
  readonly dropout?: Answer<FoundDropout, "never-released" | "not-repeatable">;
}

/** Where the function lets go: between the last level at which it held and the first at which it had released. */
export interface FoundDropout {
  /** The first level on the way back at which it had released. */
  readonly level: number;
  /** The last level at which it still held. */
  readonly held: number;
  /** The smaller of the two. */
  readonly low: number;
  /** The larger of the two. */
  readonly high: number;
}

/** A pickup, or why there is none. */
export type PickupAnswer = Answer<FoundPickup, "operated-at-rest" | "never-operated" | "not-repeatable">;

/** A search as it stands: the trial to make next, or what it has come to. */
export type NextTrial =
  | { readonly status: "asking"; readonly trial: Trial }
  | { readonly status: "done"; readonly result: PickupAnswer };

/**
 * The search for the level at which a function picks up, and on the way back for the one at which it lets go. A generator:
 * it yields what to inject, is sent whether the function stands operated at the end of the hold, and returns the bracket
 * (quiet, pickup], which is one step of the grid wide. An under function is the same search downward.
 *
 * - `linear`: step by step from `from`, each straight from the level before.
 * - `halving`: proves that `from` is quiet and that `to` operates, then halves the bracket. Every trial starts from rest,
 *   since a function that holds below its pickup would otherwise draw the bracket down. At most ⌈log₂ levels⌉ + 2 trials
 *   for the pickup itself; the second of them is `to`.
 * - `coarse-then-fine`: in coarse steps until it operates, then rest, then in fine steps from the last quiet coarse level.
 *
 * The first trial of all starts from rest. Both ends of the bracket are then tried again from rest, `confirm` times. A
 * dropout is looked for by the same method, from the operated level back; where a trial of it cannot follow the one before,
 * the function is first made to operate again from rest. Its bracket is not tried again.
 *
 * No answer: `operated-at-rest`, the function operates at `from` already; `never-operated`, not even at `to`;
 * `not-repeatable`, a level gave two answers: the scatter is larger than the step, or the hold is too short. A dropout that
 * is not found says so under `dropout`, and the pickup stands.
 *
 * The hold must outlast the response of the function. The pickup of an inverse-time element cannot be found on its trip
 * contact, which near pickup takes longer than anybody holds: watch the contact that follows its start.
 *
 * @param search - Levels in any unit, the hold in seconds.
 * @returns The generator; the answer is its return value. It ends for good when it throws: go on with {@link nextTrial}.
 * @throws A {@link InputError} at once for options that are wrong, as {@link levels} does, and for a coarse step that is not
 * a whole multiple of the step; while it runs for an answer that is neither true nor false.
 * Accuracy: the levels are those of {@link levels}, each the double nearest to the exact decimal.
 * @source common practice
 *
 * @example
 * import { seekPickup } from "tripwright/timeline";
 * const search = { method: "halving", from: 3, to: 5, step: 0.01, hold: 0.2 } as const;
 *
 * // A rehearsal: a function that picks up above 4.023 A.
 * const rehearsed = seekPickup(search);
 * let turn = rehearsed.next();
 * while (!turn.done) turn = rehearsed.next(turn.value.level > 4.023);
 * turn.value; // → { kind: "found", pickup: 4.03, quiet: 4.02, low: 4.02, high: 4.03, injections: 12 }
 *
 * // A test source that is awaited: it injects the trial, and says how the contact stands at the end of the hold.
 * const inject = async ({ level }: { level: number }) => level > 4.023;
 * const real = seekPickup(search);
 * let next = real.next();
 * while (!next.done) next = real.next(await inject(next.value));
 * next.value; // → { kind: "found", pickup: 4.03, quiet: 4.02, low: 4.02, high: 4.03, injections: 12 }
 */
export function seekPickup(search: PickupSearch): Generator<Trial, PickupAnswer, boolean> {
  return counted(searching(readSearch(search)));
}

/**
 * The same search as a pure function of the answers so far. It is saved as its options and the answers, plain JSON, and
 * goes on from there on another day.
 *
 * @param answers - What the function did in each trial so far, in their order: true where it stood operated.
 * @returns `asking` with the trial to make next, or `done` with the result of {@link seekPickup}.
 * @throws A {@link InputError} as {@link seekPickup} does, and with its place for an answer beyond the end of the search.
 * Accuracy: as {@link seekPickup}. It goes through all the answers at each call; a driver that keeps running uses that.
 * @source common practice
 *
 * @example
 * import { nextTrial } from "tripwright/timeline";
 * // A person at an undervoltage function: from 60 V down to 40 V, in steps of 5 V and then of 1 V.
 * const search = { method: "coarse-then-fine", from: 60, to: 40, step: 1, coarseStep: 5, hold: 1, confirm: 0 } as const;
 * nextTrial(search, []); // → { status: "asking", trial: { level: 60, from: "rest", hold: 1 } }
 * const saved = JSON.stringify({ search, answers: [false, false, true] });
 * const { answers } = JSON.parse(saved);
 * nextTrial(search, answers); // → { status: "asking", trial: { level: 55, from: "rest", hold: 1 } }
 * const end = nextTrial(search, [...answers, false, false, true]);
 * end.status === "done" && end.result.kind === "found" && end.result.pickup; // → 53
 */
export function nextTrial(search: PickupSearch, answers: readonly boolean[]): NextTrial {
  const running = seekPickup(search);
  let turn = running.next();
  for (const [i, answer] of list(answers, "answers", "a list of true and false").entries()) {
    if (turn.done) fail("too-many", `answers[${i}]`, `no more than the ${i} that the search has asked for`, answer);
    turn = running.next(answer);
  }
  return turn.done ? { status: "done", result: turn.value } : { status: "asking", trial: turn.value };
}

/**
 * The largest number of trials that a search can take, with confirmation and dropout; for planning time.
 *
 *     linear: n,  halving: 2 + ⌈log₂(n − 1)⌉,  coarse-then-fine: 2 + ⌊(n − 1)/m⌋ + m
 *
 * for the pickup on n levels with m fine steps to a coarse one; 2 · confirm more; and for the dropout what its method takes
 * on the levels from `to` back, where halving takes two trials for each level.
 *
 * @throws A {@link InputError} as {@link seekPickup} does.
 * Accuracy: a bound that no search exceeds; a search for the pickup alone reaches it.
 * @source definition
 *
 * @example
 * import { mostInjections } from "tripwright/timeline";
 * const search = { from: 3, to: 5, step: 0.01, hold: 0.2, confirm: 0 } as const;
 * mostInjections({ ...search, method: "linear" }); // → 201
 * mostInjections({ ...search, method: "halving" }); // → 10
 * mostInjections({ ...search, method: "coarse-then-fine", coarseStep: 0.1 }); // → 32
 */
export function mostInjections(search: PickupSearch): number {
  const { method, out, beyond, confirm } = readSearch(search);
  const { most } = METHODS[method];
  const steps = out.levels.length - 1;
  const back = beyond === undefined ? 0 : most(steps + beyond.length, { ...out, begins: "operated" });
  return 1 + most(steps, out) + 2 * confirm + back;
}

/** Refuses what is no answer, and adds how many there were. */
function* counted(running: Searching<PickupAnswer>): Searching<PickupAnswer> {
  let turn = running.next();
  let injections = 0;
  for (; !turn.done; injections++) {
    const answer: unknown = yield turn.value;
    if (typeof answer !== "boolean") failType(`answers[${injections}]`, "true (operated) or false", answer);
    turn = running.next(answer);
  }
  return turn.value.kind === "found" ? { ...turn.value, injections } : turn.value;
}

function* searching({ method, out, beyond, confirm }: ReadSearch): Searching<PickupAnswer> {
  const { levels, hold } = out;
  if (yield { level: levels[0] as number, from: "rest", hold }) return { kind: "none", reason: "operated-at-rest" };
  const operated = yield* METHODS[method].seek(out);
  if (typeof operated === "string") {
    return { kind: "none", reason: operated === "never" ? "never-operated" : operated };
  }
  const [quiet, pickup] = levels.slice(operated - 1, operated + 1) as [number, number];
  for (let i = 0; i < confirm; i++) {
    const repeats = !(yield { level: quiet, from: "rest", hold }) && (yield { level: pickup, from: "rest", hold });
    if (!repeats) return { kind: "none", reason: "not-repeatable" };
  }
  const found = { kind: "found", pickup, quiet, ...bracket(quiet, pickup), injections: 0 } as const;
  if (beyond === undefined) return found;
  const back = [...levels.slice(0, operated + 1).reverse(), ...beyond];
  return { ...found, dropout: yield* returning(method, { ...out, levels: back, begins: "operated" }) };
}

/** From the operated level back. Where the way is stepped, the trial before this was at that level, and it operated. */
function* returning(method: ReadSearch["method"], back: Way): Searching<NonNullable<FoundPickup["dropout"]>> {
  const released = yield* METHODS[method].seek(back);
  if (typeof released === "string") {
    return { kind: "none", reason: released === "never" ? "never-released" : released };
  }
  const [held, level] = back.levels.slice(released - 1, released + 1) as [number, number];
  return { kind: "found", level, held, ...bracket(held, level) };
}

const bracket = (a: number, b: number): { readonly low: number; readonly high: number } => ({
  low: Math.min(a, b),
  high: Math.max(a, b),
});
