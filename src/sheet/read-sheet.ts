import * as v from "valibot";
import { fail } from "../base/check.js";
import { InputError } from "../base/input-error.js";
import { type Problem, type ProblemCode, printed } from "../base/problem.js";
import { quantityExample, quantityProblem } from "../base/quantity.js";
import type { RelaySettings } from "./relay-settings.js";
import { resolveSheet } from "./settings.js";
import type { Sheet } from "./sheet.js";
import { sheetShape } from "./sheet-shape.js";
import { quantityNamed } from "./typed-shape.js";

/**
 * Reads a setting sheet: whatever came out of a JSON file, held against the shape of a sheet, its units, its curves and
 * the settings against each other.
 *
 * @param given - Typically the result of `JSON.parse`.
 * @returns The sheet as it was typed; `settingsOf` makes numbers of it.
 * @throws A {@link InputError} that lists **every** problem with its path.
 * @source design of this library
 *
 * @example
 * import { InputError } from "tripwright";
 * import { readSheet } from "tripwright/plan";
 * try {
 *   readSheet({ format: "tripwright/sheet@1", substation: "Corriedale Junction", feeder: "Tannery Lane", relay: "F12",
 *     frequency: "50 V", values: "secondary", elements: [] });
 * } catch (error) {
 *   (error as InputError).problems.map((problem) => problem.path); // → ["frequency", "elements"]
 * }
 */
export function readSheet(given: unknown): Sheet {
  settingsBehind(given);
  return given as Sheet;
}

/**
 * The settings that a sheet stands for, as numbers: secondary values in SI units, defaults filled in, elements that are
 * switched off left out.
 *
 * @throws A {@link InputError} with every problem of settings that make no sense.
 * Accuracy: each number is the double nearest to what was typed, carried to the secondary side in exact decimals.
 * @source design of this library
 *
 * @example
 * import { readSheet, settingsOf } from "tripwright/plan";
 * const accuracy = { pickup: { percent: 5 }, time: { percent: 5, absolute: "40 ms" } };
 * const sheet = readSheet({
 *   format: "tripwright/sheet@1", substation: "Corriedale Junction", feeder: "Tannery Lane", relay: "F12",
 *   frequency: "50 Hz", values: "primary", ct: "400/5",
 *   elements: [{ id: "51P", function: "51", pickup: "320 A", curve: "iec-inverse", multiplier: 0.2, accuracy }],
 * });
 * settingsOf(sheet).elements[0]?.pickup; // → 4
 */
export const settingsOf = (sheet: Sheet): RelaySettings => settingsBehind(sheet);

function settingsBehind(given: unknown): RelaySettings {
  const shape = v.safeParse(sheetShape, given);
  const problems = shape.success ? [] : shape.issues.flatMap(inside).map((issue) => problemOf(issue, given));
  // Elements whose shape is good are resolved all the same, so that one slip does not hide the next.
  const bad = problems.map(({ path }) => path);
  const resolved = resolveSheet(given, bad);
  // What its shape says is bad is told once.
  problems.push(...resolved.problems.filter(({ path }) => !bad.includes(path)));
  if (problems.length > 0) throw new InputError(problems);
  return resolved.settings ?? fail("wrong-type", "", "a setting sheet", given);
}

type Issue = v.InferIssue<typeof sheetShape>;

/**
 * Of several shapes, what the one that is meant finds wrong within: constants of a curve are no name, and are told where
 * they are bad. Where none gets inside, or several do, the whole is what is wrong.
 */
function inside(issue: Issue): Issue[] {
  const found = issue.type === "union" ? (issue.issues ?? []) : [];
  const within = found.filter(({ path }) => path !== undefined);
  if (within.length === 0 || within.length === found.length) return [issue];
  return within.map((one) => ({ ...one, path: [...(issue.path ?? []), ...(one.path ?? [])] }) as Issue);
}

function problemOf(issue: Issue, given: unknown): Problem {
  const keys = (issue.path ?? []).map((item) => item.key as string | number);
  const path = keys.reduce<string>(
    (at, key) => at + (typeof key === "number" ? `[${key}]` : at === "" ? key : `.${key}`),
    "",
  );
  if (issue.expected === "never") {
    return {
      code: "unknown-key",
      path,
      expected: `one of ${knownKeys(keys.slice(0, -1), given)}`,
      received: printed(keys.at(-1)),
    };
  }
  const message = issue.input === undefined ? (messageAt(keys, given) ?? issue.message) : issue.message;
  const kind = quantityNamed(message);
  const better = kind === undefined || issue.input === undefined ? undefined : quantityProblem(issue.input, kind, path);
  if (better !== undefined) return better;
  const expected = kind === undefined ? message : quantityExample(kind);
  return { code: codeOf(issue), path, expected, received: printed(issue.input) };
}

const CODES: Readonly<Record<string, ProblemCode>> = {
  picklist: "unknown-name",
  union: "unknown-name",
  literal: "unknown-name",
  variant: "unknown-name",
  regex: "unreadable",
  non_empty: "wrong-length",
  min_length: "wrong-length",
  max_length: "wrong-length",
};

function codeOf(issue: Issue): ProblemCode {
  if (issue.input === undefined) return "missing";
  if (issue.type === "variant" && (typeof issue.input !== "string" || issue.expected === "Object")) return "wrong-type";
  return CODES[issue.type] ?? "wrong-type";
}

interface Node {
  readonly type: string;
  readonly message?: unknown;
  readonly entries?: Readonly<Record<string, Node>>;
  readonly item?: Node;
  readonly wrapped?: Node;
  readonly options?: readonly Node[];
  /** Of a variant: the field that tells its options apart. */
  readonly key?: string;
}

/** What that field holds: one text, or one of several. */
interface Discriminator {
  readonly literal?: unknown;
  readonly options?: readonly unknown[];
}

/** The part of the shape that a path leads to. valibot reports a missing key on the object that lacks it, not on the key. */
function nodeAt(keys: readonly (string | number)[], given: unknown): Node | undefined {
  let node: Node | undefined = sheetShape as unknown as Node;
  let value = given;
  for (const key of keys) {
    node = chosen(node, value);
    node = typeof key === "number" ? node?.item : node?.entries?.[key];
    value = (value as Record<string | number, unknown> | undefined)?.[key];
  }
  return chosen(node, value);
}

/** Through optional wrappers, and to the option of a variant that the value chooses by its function or form. */
function chosen(node: Node | undefined, value: unknown): Node | undefined {
  if (node?.type === "optional") return chosen(node.wrapped, value);
  // Of a name or constants, what has fields is the constants.
  const constants = node?.type === "union" ? node.options?.find(({ type }) => type === "variant") : undefined;
  if (constants !== undefined && typeof value === "object") return chosen(constants, value);
  if (node?.type !== "variant") return node;
  const { key = "", options = [] } = node;
  const name = (value as Record<string, unknown> | undefined)?.[key];
  const isMeant = ({ literal, options: names = [literal] }: Discriminator) => names.includes(name);
  return options.find(({ entries }) => isMeant((entries?.[key] ?? {}) as Discriminator)) ?? node;
}

function messageAt(keys: readonly (string | number)[], given: unknown): string | undefined {
  const message = nodeAt(keys, given)?.message;
  return message === undefined ? undefined : String(message);
}

const knownKeys = (keys: readonly (string | number)[], given: unknown): string =>
  Object.keys(nodeAt(keys, given)?.entries ?? {}).join(", ");
