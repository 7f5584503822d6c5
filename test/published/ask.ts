import { characteristic } from "./characteristic/ask.js";
import { curve } from "./curve/ask.js";
import { element } from "./element/ask.js";
import { grading } from "./grading/ask.js";
import type { Ask } from "./harness.js";
import { phasor } from "./phasor/ask.js";
import { sinusoid } from "./sinusoid/ask.js";
import { timeline } from "./timeline/ask.js";

/** How the library is asked for each table. */
export const ASK: { readonly [table: string]: Ask } = {
  ...characteristic,
  ...curve,
  ...sinusoid,
  ...phasor,
  ...timeline,
  ...grading,
  ...element,
};
