/** What contacts did during a run: edges in order of time, without bounce. */
import { finite } from "../base/check.js";
import { type Decimal, decimal, isBelow } from "../base/exact.js";
import { readEach } from "../base/read-each.js";
import type { ContactChange } from "../base/sequence.js";
import type { Seconds } from "../base/units.js";
import { checkChange } from "./check-timeline.js";

/** A change of a contact as it was seen. */
export interface ContactEvent extends ContactChange {
  /** Seconds since the start of what was really injected; at 0 or before it says how the contact stood at the start. */
  readonly at: Seconds;
}

/** A change that counts, with its instant as an exact decimal. */
export interface Edge {
  readonly event: ContactEvent;
  readonly at: Decimal;
}

/**
 * The changes that count, in order of time, all after the start: what repeats how a contact stands already is no change, what
 * belongs to the bounce of an earlier change is dropped, and what is told at the start or before is a position, no change
 * that could bounce.
 */
export function edgesOf(events: readonly ContactEvent[], debounce: Decimal): readonly Edge[] {
  const all = readEach(events, "contactEvents", "a list of { contact, at, to }", edgeOf).sort(inTime);
  const stands = new Map<string, ContactEvent["to"]>();
  const byContact = new Map<string, Edge[]>();
  for (const edge of all) {
    const { contact, to } = edge.event;
    const edges = byContact.get(contact) ?? [];
    byContact.set(contact, edges);
    if (edge.at.gt(0) && stands.get(contact) !== to) edges.push(edge);
    stands.set(contact, to);
  }
  const kept = new Set([...byContact.values()].flatMap((edges) => settled(edges, debounce)));
  return all.filter((edge) => kept.has(edge));
}

function edgeOf(event: ContactEvent): Edge {
  checkChange(event);
  return { event, at: decimal(finite(event.at, "at", "an instant in seconds"), "at") };
}

/** Stable, so that what happened at one instant keeps the order in which it was listed. */
const inTime = (a: Edge, b: Edge): number => a.at.cmp(b.at);

/**
 * The edges of one contact without bounce. Edges that follow one another within the debounce time are one burst; the
 * first of them counts, and where the burst leaves the contact as it was before, the last one too: a blip is not bounce.
 */
function settled(edges: readonly Edge[], debounce: Decimal): Edge[] {
  const kept: Edge[] = [];
  for (let first = 0; first < edges.length; ) {
    let last = first;
    while (last + 1 < edges.length && !isBelow(debounce, gap(edges, last))) last++;
    kept.push(edges[first] as Edge);
    if ((last - first) % 2 === 1) kept.push(edges[last] as Edge);
    first = last + 1;
  }
  return kept;
}

const gap = (edges: readonly Edge[], i: number): Decimal => (edges[i + 1] as Edge).at.minus((edges[i] as Edge).at);
