/** Limits that hold for a quantity, those of single channels or inputs in their place, and what was left open. */
import { object } from "../base/check.js";
import { joinPaths } from "../base/input-error.js";
import type { Channel } from "../base/sequence.js";

type Quantity = Channel["quantity"];

/** Something that has limits: a channel of the source, or an input of the relay. */
export interface Subject {
  readonly name: string;
  readonly quantity: Quantity;
}

/** What was given for both quantities, and by name at a place such as `channels`. */
export interface Given<T> {
  readonly current: T | undefined;
  readonly voltage: T | undefined;
  readonly place: string;
  readonly single: { readonly [name: string]: T } | undefined;
}

/** What holds where a subject has limits of its own, limit by limit in place of those of its quantity. */
const limitByLimit = <R extends object>(common: Partial<R>, own: Partial<R>): Partial<R> => ({ ...common, ...own });

/** Reads all of them, and gives those that hold for a subject. */
export function rulesOf<T, R extends object>(
  { current, voltage, place, single = {} }: Given<T>,
  read: (given: T, path: string) => R,
  inPlace: (common: Partial<R>, own: Partial<R>) => Partial<R> = limitByLimit,
): (subject: Subject) => Partial<R> {
  const common: { readonly [Q in Quantity]: Partial<R> } = {
    current: current === undefined ? {} : read(current, "current"),
    voltage: voltage === undefined ? {} : read(voltage, "voltage"),
  };
  object(single, place, `${place} by name`);
  const own = new Map(Object.entries(single).map(([name, given]) => [name, read(given, joinPaths(place, name))]));
  return ({ name, quantity }) => inPlace(common[quantity], own.get(name) ?? {});
}

/** What is not given: for all subjects of a quantity `current.power`, for single ones `channels.i.power`. */
export function openPaths(
  subjects: readonly Subject[],
  place: string,
  openOf: (subject: Subject) => readonly string[],
): string[] {
  return (["current", "voltage"] as const).flatMap((quantity) => {
    const same = subjects.filter((subject) => subject.quantity === quantity);
    const open = new Map(same.map((subject) => [subject.name, openOf(subject)]));
    const limits = [...new Set([...open.values()].flat())];
    return limits.flatMap((limit) => {
      const names = same.map(({ name }) => name).filter((name) => open.get(name)?.includes(limit));
      return names.length === same.length
        ? [`${quantity}.${limit}`]
        : names.map((name) => `${joinPaths(place, name)}.${limit}`);
    });
  });
}
