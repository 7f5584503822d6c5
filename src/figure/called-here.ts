import { joinPaths, retold } from "../base/input-error.js";

/**
 * Runs work of a module below, which knows what it is given under names of its own: its problems stand where the user of a
 * figure gave it. `{ upstream: "relay" }` makes `relay.pickup` of `upstream.pickup`; an empty name leaves what lies below.
 */
export const calledHere = <T>(names: { readonly [below: string]: string }, work: () => T): T =>
  retold((problem) => ({ ...problem, path: renamed(problem.path, names) }), work);

function renamed(path: string, names: { readonly [below: string]: string }): string {
  const [, name = "", rest = ""] = /^([^.[]*)\.?(.*)$/s.exec(path) ?? [];
  return Object.hasOwn(names, name) ? joinPaths(names[name] as string, rest) : path;
}
