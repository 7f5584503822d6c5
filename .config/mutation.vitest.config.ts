import { mergeConfig } from "vitest/config";
import common from "../test/vitest.config.js";

/**
 * The tests that a mutant meets: those of its module, and the published values. Those of a million samples would take most of
 * the time.
 */
const module = process.env["TRIPWRIGHT_MUTATE"] ?? "";
const config = mergeConfig(common, {});
config.test = {
  ...config.test,
  include: [`test/${module}/**/*.test.ts`, "test/published/published.test.ts"],
  exclude: ["**/million-*.test.ts"],
  reporters: ["default"],
};

export default config;
