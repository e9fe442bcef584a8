import { fileURLToPath } from "node:url";
import { defineConfig } from "vitest/config";

const BUILT = fileURLToPath(new URL("../dist", import.meta.url));

export default defineConfig({
  root: fileURLToPath(new URL("..", import.meta.url)),
  resolve: {
    // It starts a process of the program as built, and beside the sources there is none.
    alias: [{ find: /^.*\/draw-apart\.js$/, replacement: `${BUILT}/daemon/drawing/draw-apart.js` }],
  },
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
