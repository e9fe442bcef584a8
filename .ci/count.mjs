// Prints vitest's own counts as the plain last line of .ci/run, and fails when vitest did.
//
//   node .ci/count.mjs RESULT.json EXIT-STATUS-OF-VITEST
import { existsSync, readFileSync } from "node:fs";

const [file, status] = process.argv.slice(2);
if (!existsSync(file)) {
  console.error("vitest left no result");
  process.exit(1);
}
const result = JSON.parse(readFileSync(file, "utf8"));
// A test file that cannot be loaded holds no failed test, and yet fails.
const broken = result.testResults.filter(
  (f) => f.status === "failed" && f.assertionResults.length === 0,
);
for (const { name, message } of broken) console.log(`not loaded: ${name}: ${message}`);
const failed = result.numFailedTests + broken.length;
if (result.numPendingTests > 0) console.log(`${result.numPendingTests} skipped`);
console.log(`${result.numPassedTests} passed, ${failed} failed`);
process.exit(status === "0" && failed === 0 && result.numPassedTests > 0 ? 0 : 1);
