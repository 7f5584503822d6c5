import type { Seconds } from "../base/units.js";
import type { Duty, SourceExceedance } from "./source-limits.js";
import { passedAt, placeOf, rmsAfter, type Stand } from "./stand.js";

/** Levels above a mark for longer than they may stand, through adjacent states. */
export function tooLong(stands: readonly Stand[], { above: mark, atMost }: Duty): SourceExceedance[] {
  const found: SourceExceedance[] = [];
  let since: { readonly at: Seconds; readonly stand: Stand } | undefined;
  let last: Seconds | undefined;
  const close = (end: Seconds) => {
    const lasted = since === undefined ? 0 : Number((end - since.at).toPrecision(12));
    if (since !== undefined && lasted > atMost) {
      const { stand, at } = since;
      found.push({ limit: "duty", unit: "s", amount: lasted, allowed: atMost, ...placeOf(stand, 0), at: at + atMost });
    }
    since = undefined;
  };
  for (const stand of stands) {
    const { state, start, segment } = stand;
    if (last !== undefined && start > last) close(last);
    const isAbove = (time: Seconds) => rmsAfter(state, time) > mark;
    const [begins, ends] = [isAbove(0), isAbove(segment.duration)];
    const crossing = begins === ends ? 0 : passedAt((time) => isAbove(time) === ends, segment.duration);
    if (begins) since ??= { at: start, stand };
    if (begins && !ends) close(start + crossing);
    if (!begins && since !== undefined) close(start);
    if (!begins && ends) since = { at: start + crossing, stand };
    last = start + segment.duration;
  }
  if (last !== undefined) close(last);
  return found;
}
