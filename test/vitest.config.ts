import { defineConfig } from "vitest/config";

export default defineConfig({
  root: new URL("..", import.meta.url).pathname,
  cacheDir: ".cache/vite",
  resolve: { tsconfigPaths: true },
  test: {
    include: ["test/**/*.test.ts"],
    // A busy machine is no failure.
    testTimeout: 60_000,
    globalSetup: "test/support/seed.ts",
    reporters: ["default", ["json", { outputFile: ".cache/tests.json" }]],
    coverage: {
      include: ["src/**"],
      reportsDirectory: ".cache/coverage",
      reporter: ["text", "html"],
      // What a busy machine has not finished in time must not cost the table of all the rest.
      reportOnFailure: true,
    },
  },
});
