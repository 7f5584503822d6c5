import { fail, text } from "../base/check.js";

/** Text with something in it, such as a name. */
export const someText = (value: unknown, path: string, what: string): string =>
  text(value, path, what) || fail("wrong-type", path, what, value);
