import { spawnSync } from "node:child_process";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { expect, test } from "vitest";
import { testFolder, writeFiles } from "../daemon/config/written-config.js";

const SCRIPT = fileURLToPath(new URL("../../.ci/count.mjs", import.meta.url));

function count(result: object | null, status: number) {
  const folder = result === null ? testFolder() : writeFiles({ "r.json": JSON.stringify(result) });
  const args = [SCRIPT, join(folder, "r.json"), String(status)];
  const { status: code, stdout } = spawnSync(process.execPath, args, { encoding: "utf8" });
  return { code, last: stdout.trimEnd().split("\n").at(-1) };
}

const passed = { status: "passed", assertionResults: [{}] };

test("the last line is what vitest counted", () => {
  const result = {
    numPassedTests: 7,
    numFailedTests: 0,
    numPendingTests: 2,
    testResults: [passed],
  };
  expect(count(result, 0)).toEqual({ code: 0, last: "7 passed, 0 failed" });
  expect(count({ ...result, numFailedTests: 3 }, 1)).toEqual({
    code: 1,
    last: "7 passed, 3 failed",
  });
});

test("a test file that could not be loaded counts as failed", () => {
  const broken = { status: "failed", assertionResults: [], name: "x.test.ts", message: "no" };
  const result = {
    numPassedTests: 7,
    numFailedTests: 0,
    numPendingTests: 0,
    testResults: [broken],
  };
  expect(count(result, 1)).toEqual({ code: 1, last: "7 passed, 1 failed" });
});

test("no result, no test, or a vitest that failed otherwise is a failure", () => {
  expect(count(null, 0).code).toBe(1);
  const none = { numPassedTests: 0, numFailedTests: 0, numPendingTests: 0, testResults: [] };
  expect(count(none, 0).code).toBe(1);
  expect(count({ ...none, numPassedTests: 1 }, 1).code).toBe(1);
});
