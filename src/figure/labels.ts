/** Labels where they belong, beside what they name, and not over one another. */
import { FONT_SIZE } from "./look.js";

/** Something to be labelled, in pixels from the lower left corner of a panel. */
export interface Anchor {
  readonly x: number;
  readonly y: number;
  readonly text: string;
}

/** Where a label stands: its left end, at half its height. */
export interface Placed {
  readonly x: number;
  readonly y: number;
}

const LINE = FONT_SIZE + 3;

/** A generous guess; the drawing font is not known here. */
export const widthOf = (text: string): number => [...text].length * 0.52 * FONT_SIZE;

/** Heights as near as possible to those wanted, at least a line apart, in the order in which they are wanted. */
export function spread(wanted: readonly number[], height: number): number[] {
  const order = wanted.map((_, i) => i).sort((a, b) => (wanted[a] as number) - (wanted[b] as number));
  const placed: number[] = [];
  let floor = Number.NEGATIVE_INFINITY;
  for (const i of order) {
    placed[i] = Math.max(wanted[i] as number, floor);
    floor = (placed[i] as number) + LINE;
  }
  let ceiling = Math.max(height, (order.length - 1) * LINE);
  for (const i of order.toReversed()) {
    placed[i] = Math.min(placed[i] as number, ceiling);
    ceiling = (placed[i] as number) - LINE;
  }
  return placed;
}

interface Box {
  readonly left: number;
  readonly right: number;
  readonly low: number;
  readonly high: number;
}

/** The panel in which labels are placed, and the places that they had better leave free. */
export interface Room {
  readonly width: number;
  readonly height: number;
  readonly avoid: readonly Placed[];
}

const GAP = 7;

/**
 * For each anchor the place beside it where it hides least: to the right, left, above or below, nearer before farther.
 */
export function placeLabels(anchors: readonly Anchor[], room: Room): Placed[] {
  const taken: Box[] = anchors.map(({ x, y }) => boxOf({ x: x - 4, y }, 8, 8));
  return anchors.map((anchor) => {
    const width = widthOf(anchor.text);
    const candidates = placesFor(anchor, width);
    const costs = candidates.map((place, i) => cost(boxOf(place, width, LINE), { taken, room }) + i * 0.3);
    const best = candidates[costs.indexOf(Math.min(...costs))] as Placed;
    taken.push(boxOf(best, width, LINE));
    return best;
  });
}

const boxOf = ({ x, y }: Placed, width: number, height: number): Box => ({
  left: x,
  right: x + width,
  low: y - height / 2,
  high: y + height / 2,
});

function placesFor({ x, y }: Anchor, width: number): Placed[] {
  return [1, 2, 3].flatMap((far) => {
    const [right, left, up] = [x + GAP, x - GAP - width, far * LINE];
    const besides =
      far === 1
        ? [
            { x: right, y },
            { x: left, y },
          ]
        : [];
    const around = [right, left, x - width / 2].flatMap((at) => [
      { x: at, y: y + up },
      { x: at, y: y - up },
    ]);
    return [...besides, ...around];
  });
}

function cost(box: Box, { taken, room }: { readonly taken: readonly Box[]; readonly room: Room }): number {
  const overlaps = taken.filter((other) => meet(box, other)).length;
  const hidden = room.avoid.filter(({ x, y }) => x > box.left && x < box.right && y > box.low && y < box.high).length;
  const outside = box.left < 0 || box.right > room.width || box.low < 0 || box.high > room.height ? 1 : 0;
  return 20 * overlaps + Math.min(hidden, 8) / 3 + 12 * outside;
}

const meet = (a: Box, b: Box): boolean => a.left < b.right && b.left < a.right && a.low < b.high && b.low < a.high;
