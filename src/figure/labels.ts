/** Labels where they belong, beside what they name, and not over one another. */
import { FONT_SIZE } from "./look.js";

/** Something to be labelled, in pixels from the lower left corner of a panel. */
export interface Anchor {
  readonly x: number;
  readonly y: number;
  /** Lines of it are parted by `\n`. */
  readonly text: string;
  /** Placed before the others, which may find no room any more. */
  readonly isUrgent?: boolean;
  readonly isBold?: boolean;
  /** How many lines from its anchor it may stand; farther for one that says itself what it is about. Default 3. */
  readonly reach?: number;
}

/** A point of a panel, in pixels. */
export interface Pixel {
  readonly x: number;
  readonly y: number;
}

/** Where a label stands: the end of it that lies at its anchor, and the middle of its height. */
export interface Placed extends Pixel {
  readonly align: "left" | "center" | "right";
}

/** A part of a panel, in pixels. */
export interface Box {
  readonly left: number;
  readonly right: number;
  readonly low: number;
  readonly high: number;
}

export const LINE = FONT_SIZE + 3;

/** A generous guess, for fonts wider than the one that is asked for; the drawing font is not known here. */
export function widthOf(text: string, isBold = false): number {
  const share = isBold ? 0.7 : 0.62;
  return text
    .split("\n")
    .map((line) => [...line].reduce((width, character) => width + (WIDE.test(character) ? 1.05 : share), 0) * FONT_SIZE)
    .reduce((a, b) => Math.max(a, b), 0);
}

/** Characters as wide as they are high. */
const WIDE = /[\p{Script=Han}\p{Script=Hiragana}\p{Script=Katakana}\p{Script=Hangul}\p{Emoji_Presentation}]/u;

const heightOf = (text: string): number => text.split("\n").length * LINE;

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

/** The panel in which labels are placed. */
export interface Room {
  readonly width: number;
  readonly height: number;
  /** Places that they had better leave free, such as those of lines. */
  readonly avoid: readonly Pixel[];
  /** What they must not cover, beside their own anchors, such as marks of readings. */
  readonly blocked?: readonly Box[];
}

const GAP = 9;
const USUAL_REACH = 3;
/** Half the size of the largest mark. */
const MARK = 7;

/** What the mark of a reading covers. */
export const markAt = ({ x, y }: Pixel): Box => ({ left: x - MARK, right: x + MARK, low: y - MARK, high: y + MARK });

/**
 * For each anchor the place beside it where it hides least: to the right, left, above or below, nearer before farther.
 * None where every such place covers a mark or another label, or leaves the panel on a side where numbers stand.
 */
export function placeLabels(anchors: readonly Anchor[], room: Room): (Placed | undefined)[] {
  const taken: Box[] = [...anchors.map(markAt), ...(room.blocked ?? [])];
  const placed: (Placed | undefined)[] = anchors.map(() => undefined);
  const order = anchors.map((_, i) => i).sort((a, b) => urgency(anchors[b]) - urgency(anchors[a]) || a - b);
  for (const i of order) {
    const anchor = anchors[i] as Anchor;
    const size = { width: widthOf(anchor.text, anchor.isBold), height: heightOf(anchor.text) };
    const candidates = placesFor(anchor, size.height).map((place) => ({ place, box: boxOf(place, size) }));
    const { reach = USUAL_REACH } = anchor;
    const costs = candidates.map(({ box }, n) => cost(box, { taken, room, reach }) + (n * 0.9) / reach);
    const least = Math.min(...costs);
    if (least === Number.POSITIVE_INFINITY) continue;
    const { place, box } = candidates[costs.indexOf(least)] as (typeof candidates)[number];
    placed[i] = place;
    taken.push(box);
  }
  return placed;
}

const urgency = (anchor: Anchor | undefined): number => (anchor?.isUrgent ? 1 : 0);

/** What a label covers. */
export function boxOf({ x, y, align }: Placed, { width, height }: { width: number; height: number }): Box {
  const left = x - width * { left: 0, center: 0.5, right: 1 }[align];
  return { left, right: left + width, low: y - height / 2, high: y + height / 2 };
}

function placesFor({ x, y, reach = USUAL_REACH }: Anchor, height: number): Placed[] {
  const right = { x: x + GAP, align: "left" } as const;
  const left = { x: x - GAP, align: "right" } as const;
  return Array.from({ length: reach }, (_, i) => i + 1).flatMap((far) => {
    const up = (height + LINE) / 2 + (far - 1) * LINE;
    const besides = far === 1 ? [right, left].map((side) => ({ ...side, y })) : [];
    const around = [right, left, { x, align: "center" } as const].flatMap((side) => [
      { ...side, y: y + up },
      { ...side, y: y - up },
    ]);
    return [...besides, ...around];
  });
}

interface Around {
  readonly taken: readonly Box[];
  readonly room: Room;
  readonly reach: number;
}

function cost(box: Box, { taken, room, reach }: Around): number {
  const isOut = box.left < 0 || box.low < 0 || box.high > room.height;
  if (isOut || taken.some((other) => meet(box, other))) return Number.POSITIVE_INFINITY;
  const hidden = room.avoid.filter(({ x, y }) => x > box.left && x < box.right && y > box.low && y < box.high).length;
  return (Math.min(hidden, 8) * reach) / 9 + (box.right > room.width ? 12 : 0);
}

const meet = (a: Box, b: Box): boolean => a.left < b.right && b.left < a.right && a.low < b.high && b.low < a.high;

/** One row for each line of each label that has a place; `at` turns pixels into what the axes show. */
export const labelRows = <T extends object>(
  anchors: readonly Anchor[],
  places: readonly (Placed | undefined)[],
  at: (pixel: Pixel) => T,
): (T & { readonly label: string; readonly align: string })[] =>
  places.flatMap((place, i) => {
    if (place === undefined) return [];
    const lines = (anchors[i] as Anchor).text.split("\n");
    const top = place.y + ((lines.length - 1) * LINE) / 2;
    return lines.map((label, n) => ({ ...at({ x: place.x, y: top - n * LINE }), label, align: place.align }));
  });
