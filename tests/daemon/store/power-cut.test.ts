import { spawn } from "node:child_process";
import { existsSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import Database from "better-sqlite3";
import { expect, test } from "vitest";
import { openedStore, temporaryFolder } from "./temporary-store.js";

const CHILD = fileURLToPath(
  new URL("../../../dist/tests/daemon/store/committing-child.js", import.meta.url),
);

/** Let a child commit until it has said `lines` groups, then kill it. @returns the last said */
function commitAndKill(folder: string, first: number, lines: number): Promise<number> {
  return new Promise((resolve, reject) => {
    const child = spawn(process.execPath, [CHILD, folder, String(first)]);
    let out = "";
    let errors = "";
    child.stderr.on("data", (chunk) => {
      errors += chunk;
    });
    child.stdout.on("data", (chunk) => {
      out += chunk;
      if (out.split("\n").length > lines) child.kill("SIGKILL");
    });
    child.on("close", (_, signal) => {
      const said = out.split("\n").slice(0, -1);
      if (signal === "SIGKILL") resolve(Number(said.at(-1)));
      else reject(new Error(`the child ended by itself: ${errors}`));
    });
  });
}

test("a keeper killed in mid-commit has lost nothing it said was committed", async () => {
  const folder = temporaryFolder();
  expect(existsSync(CHILD), `${CHILD} is not built`).toBe(true);
  let committed = 0;
  for (const lines of [1, 20, 47, 90]) {
    // The new child can only open if the killed one's hold on the folder went with it.
    committed = await commitAndKill(folder, committed, lines);
    const store = openedStore(folder);
    const kept = store.judge.load()!.atMs;
    expect(kept).toBeGreaterThanOrEqual(committed);
    const times = [...store.readings.allBetween(0, Infinity)].map((one) => one.takenAtMs);
    expect(times).toEqual(
      Array.from({ length: kept }, (_, n) => Date.UTC(2026, 10, 1) + n * 10_000),
    );
    const inHours = [0, 1, 2].flatMap((n) => store.rollups.hours(`probe-${n}`, 0, Infinity));
    expect(inHours.reduce((sum, { count }) => sum + count, 0)).toBe(kept);
    store.close();
    committed = kept;
  }
  const db = new Database(join(folder, "drowse.db"), { readonly: true });
  expect(db.pragma("integrity_check", { simple: true })).toBe("ok");
  db.close();
});
