import { spawnSync } from "node:child_process";
import { existsSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { closest } from "fastest-levenshtein";

/*
 * `npm run bench` measures everything, `npm run bench -- NAME [OPTIONS]` one thing. Each runs in
 * a process of its own, so that one's memory and warmth are not the next one's.
 */

const NAMES = ["winters", "judge", "store", "pages", "ingest", "fuzz", "faults", "soak"];

/** The built file of a bench: a folder with a main of its own, or one file. */
function fileOf(name: string): string | null {
  const files = [`./${name}/main.js`, `./${name}.js`];
  return (
    files.map((file) => fileURLToPath(new URL(file, import.meta.url))).find(existsSync) ?? null
  );
}

/** @returns what the bench ended with: 0 held, 1 failed, 2 wrongly asked for */
function runBench(name: string, options: readonly string[]): number {
  const file = fileOf(name);
  if (file === null) {
    console.error(`bench ${name}: there is no such file`);
    return 1;
  }
  console.log(`== ${name}`);
  const args = ["--expose-gc", file, ...options];
  return spawnSync(process.execPath, args, { stdio: "inherit" }).status ?? 1;
}

const [name, ...options] = process.argv.slice(2);
if (name === undefined) {
  const failed = NAMES.filter((each) => runBench(each, []) !== 0);
  if (failed.length > 0) console.error(`failed: ${failed.join(", ")}`);
  process.exitCode = failed.length > 0 ? 1 : 0;
} else if (!NAMES.includes(name)) {
  console.error(`no bench ${name}; nearest is ${closest(name, NAMES)}, of ${NAMES.join(", ")}`);
  process.exitCode = 2;
} else process.exitCode = runBench(name, options);
