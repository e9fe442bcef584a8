// Asks the registry for known holes in what Drowse runs on, and fails on a high or critical one.
// A registry that does not answer fails nothing, for a change must not wait for it: it is said.
//
//   node .ci/audit.mjs [--registry ADDRESS]
import { spawnSync } from "node:child_process";

const args = ["audit", "--omit=dev", "--json", ...process.argv.slice(2)];
const windows = process.platform === "win32";
const { stdout = "", stderr = "" } = spawnSync("npm", args, { encoding: "utf8", shell: windows });

function countsIn(text) {
  try {
    return JSON.parse(text).metadata?.vulnerabilities ?? null;
  } catch {
    return null;
  }
}

const counts = countsIn(stdout);
if (counts === null) {
  const why = /npm (?:warn|error) audit (.*)/.exec(stderr)?.[1] ?? "npm gave no answer";
  console.log(`audit NOT DONE: ${why}`);
} else {
  const { critical, high, moderate, low } = counts;
  console.log(`audit: ${critical} critical, ${high} high, ${moderate} moderate, ${low} low`);
  process.exitCode = critical + high > 0 ? 1 : 0;
}
