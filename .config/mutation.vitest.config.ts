import { mergeConfig } from "vitest/config";
import common from "../test/vitest.config.js";

/** The tests that a mutant meets: those of its module, and the published values. */
const module = process.env["TRIPWRIGHT_MUTATE"] ?? "";
const config = mergeConfig(common, {});
config.test = {
  ...config.test,
  include: [`test/${module}/**/*.test.ts`, "test/published/published.test.ts"],
  reporters: ["default"],
};

export default config;
