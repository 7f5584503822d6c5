import { InputError } from "./input-error.js";

/**
 * Work on a plan, a record or settings, which this library makes itself, but which may have been through JSON, an editor or
 * another program since. Its shape is not described a second time to be looked at beforehand: the work is tried, and where
 * a damaged field stops it, an `InputError` says in which data. What happened is kept as its cause.
 */
export function onOwnData<T>(path: string, what: string, work: () => T): T {
  try {
    return work();
  } catch (error) {
    const stopped = error instanceof TypeError || error instanceof RangeError;
    if (!stopped || error instanceof InputError) throw error;
    const received = `one with a damaged field (${error.message.split("\n")[0]})`;
    const problem = new InputError([{ code: "wrong-type", path, expected: what, received }]);
    problem.cause = error;
    throw problem;
  }
}
