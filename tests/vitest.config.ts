import { fileURLToPath } from "node:url";
import { defineConfig } from "vitest/config";

export default defineConfig({
  root: fileURLToPath(new URL("..", import.meta.url)),
  test: {
    include: ["tests/**/*.test.ts"],
    globalSetup: ["tests/built.ts"],
    // A process for each file: native modules, signals and working folders stay apart.
    pool: "forks",
    // Most files wait for processes of their own; one worker left the second core of a small
    // machine idle and took twice as long.
    maxWorkers: 2,
    // Whole-process tests start Node, a broker and a store; a small board takes its time.
    testTimeout: 30_000,
    hookTimeout: 30_000,
    teardownTimeout: 10_000,
  },
});
