/**
 * Plain, trustworthy math for proving protective relays: from a setting sheet to a graded record.
 *
 * Every module is also an entry point of its own (`tripwright/curve`, …).
 *
 * @module tripwright
 */
export * from "./characteristic/index.js";
export * from "./curve/index.js";
export * from "./element/index.js";
export * from "./explain/index.js";
export * from "./figure/index.js";
export * from "./grading/index.js";
export * from "./phasor/index.js";
export * from "./plan/index.js";
export * from "./record/index.js";
export * from "./rehearsal/index.js";
export * from "./report/index.js";
export * from "./sinusoid/index.js";
export * from "./timeline/index.js";
