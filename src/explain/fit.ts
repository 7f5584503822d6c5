/** The value of one free number that leaves the least misfit. */
import { bottomBetween } from "../base/bracket.js";
import type { Free } from "./situation.js";

const LOOKS = 24;
const CLOSER = 22;

/** What was found, and what it leaves. */
export interface Fitted {
  readonly x: number;
  readonly misfit: number;
  /** From where to where it may be as well, where the readings leave that open. */
  readonly open?: readonly [from: number, to: number];
}

/**
 * Looks at places of the range, closes in on the best of them by the golden section, and goes to the nearest step of the
 * setting that leaves less. Where the end of the range leaves as little, the readings say no more than that it lies far out:
 * then it is the end.
 *
 * Accuracy: 3e-6 of the range; where there are several bottoms, the one nearest to the best look.
 */
export function leastMisfit(misfitAt: (x: number) => number, free: Free): Fitted {
  const place = placesOf(free);
  const looks = Array.from({ length: LOOKS + 1 }, (_, i) => misfitAt(place(i / LOOKS)));
  const best = looks.indexOf(Math.min(...looks));
  const misfitOfShare = (share: number) => misfitAt(place(share));
  const closest = closeIn(misfitOfShare, best);
  // On a narrow flat between steps the section may close in beside it.
  const isCloser = misfitOfShare(closest) <= (looks[best] as number);
  const share = isCloser ? closest : best / LOOKS;
  const flat = flatAround(misfitOfShare, share, free);
  // The middle of what fits alike stands for all of it.
  const x = place((flat.best[0] + flat.best[1]) / 2);
  const found = inSteps({ x, misfit: misfitAt(x) }, misfitAt, free);
  const ends = free.turns
    ? []
    : [free.from, free.to].map((end, i): Fitted => ({ x: end, misfit: looks[i * LOOKS] as number }));
  const fitted = ends.find(({ misfit }) => misfit <= found.misfit * (1 + 1e-12)) ?? found;
  const open = [place(flat.open[0]), place(flat.open[1])] as const;
  const isOpen = open[1] - open[0] > (free.step ?? 0) && fitted.x >= open[0] && fitted.x <= open[1];
  return isOpen ? { ...fitted, open } : fitted;
}

/** From a share of the range to a number: evenly, or by ratio and ever closer around what the sheet says. */
function placesOf({ from, to, around }: Free): (share: number) => number {
  if (around === undefined) return (share) => from + (to - from) * share;
  return (share) => {
    const away = 2 * share - 1;
    return around * (away < 0 ? around / from : to / around) ** (away * away * away);
  };
}

/** The share of the range with the least misfit between the looks beside the best one. */
const closeIn = (misfitAt: (share: number) => number, best: number): number =>
  bottomBetween(misfitAt, [Math.max(0, best - 1) / LOOKS, Math.min(LOOKS, best + 1) / LOOKS], { steps: CLOSER });

const HALVINGS = 20;
const FLAT = 1e-9;
const BESIDE = 0.01 / LOOKS;
/** Of χ², what a free number loses by chance in one case of twenty. */
const ALIKE = 3.84;

type Shares = readonly [from: number, to: number];

/**
 * Where words alone decide, such as never at one level and 3 s at the next, all that lies between leaves the same misfit.
 * Beside it may lie another such range, as where a contact answers one level later, that chance does not tell from it: both
 * are open. Elsewhere it is the place that was found, twice.
 */
function flatAround(
  misfitAt: (share: number) => number,
  found: number,
  { turns }: Free,
): { readonly best: Shares; readonly open: Shares } {
  const least = misfitAt(found);
  const [low, high] = turns ? [found - 0.5, found + 0.5] : [0, 1];
  const within = (share: number) => Math.min(high, Math.max(low, share));
  const isAt = (level: number) => (share: number) => Math.abs(misfitAt(share) - level) <= FLAT;
  const isFlat = isAt(least);
  if (!isFlat(within(found - BESIDE)) && !isFlat(within(found + BESIDE))) {
    const there = [found, found] as const;
    return { best: there, open: there };
  }
  const ends = ([-1, 1] as const).map((way) => {
    const best = endOfFlat(isFlat, found, within, way);
    let open = best;
    for (;;) {
      const next = within(open + way * BESIDE);
      const level = misfitAt(next);
      const isAlike = next !== open && level <= least + ALIKE && isAt(level)(within(next + way * BESIDE));
      if (!isAlike) return { best, open };
      open = endOfFlat(isAt(level), next, within, way);
    }
  });
  const [from, to] = ends as [Ends, Ends];
  return { best: [from.best, to.best], open: [from.open, to.open] };
}

interface Ends {
  readonly best: number;
  readonly open: number;
}

/** How far a flat goes to one side: ever wider steps, then halving. */
function endOfFlat(
  isFlat: (share: number) => boolean,
  found: number,
  within: (share: number) => number,
  way: -1 | 1,
): number {
  let flat = found;
  let steep = within(found + way * BESIDE);
  for (let step = BESIDE; isFlat(steep); step *= 2) {
    flat = steep;
    steep = within(flat + way * step);
    if (steep === flat) return flat;
  }
  for (let i = 0; i < HALVINGS; i++) {
    const middle = (flat + steep) / 2;
    if (isFlat(middle)) flat = middle;
    else steep = middle;
  }
  return flat;
}

/** The better of the two steps beside what was found. */
function inSteps(found: Fitted, misfitAt: (x: number) => number, { step }: Free): Fitted {
  if (step === undefined) return found;
  const steps = [Math.floor(found.x / step), Math.ceil(found.x / step)].map((n) => Number((n * step).toPrecision(12)));
  const fitted = steps.filter((x) => x > 0).map((x): Fitted => ({ x, misfit: misfitAt(x) }));
  return fitted.reduce((one, other) => (other.misfit < one.misfit ? other : one), fitted[0] ?? found);
}
