import { spawn, spawnSync } from "node:child_process";
import { mkdirSync, mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { connectAsync } from "mqtt";
import { expect, onTestFinished, test } from "vitest";
import { systemClock } from "../../daemon/clock.js";
import { loadConfig } from "../../daemon/config.js";
import { startKeep } from "../../daemon/keep.js";
import { openStore } from "../../daemon/store/store.js";
import { PLAIN, writeFiles } from "../daemon/config/written-config.js";
import { openMemoryLog } from "../daemon/mqtt/desk.js";
import { until } from "../daemon/mqtt/until.js";

/** Another program that has the database in its hands until it is told to let go. */
function openHolder(file: string) {
  const program = `
    const Database = require("better-sqlite3");
    const db = new Database(${JSON.stringify(file)});
    db.exec("BEGIN IMMEDIATE");
    console.log("held");
    process.stdin.on("end", () => { db.exec("ROLLBACK"); db.close(); }).resume();`;
  const child = spawn(process.execPath, ["-e", program], { stdio: ["pipe", "pipe", "inherit"] });
  onTestFinished(() => void child.kill("SIGKILL"));
  const held = new Promise<void>((resolve) => child.stdout.once("data", () => resolve()));
  return { held, letGo: () => child.stdin.end() };
}

test("a database that another program locks delays acknowledgements, is said, and gets all afterwards", async () => {
  const home = writeFiles({ "drowse.toml": PLAIN });
  const config = loadConfig(join(home, "drowse.toml"));
  const log = openMemoryLog();
  const keeping = await startKeep(config, { clock: systemClock, log });
  onTestFinished(() => keeping.close());
  const sensor = await connectAsync(`mqtt://127.0.0.1:${keeping.port}`);
  onTestFinished(() => sensor.endAsync(true));
  const holder = openHolder(join(home, "state", "drowse.db"));
  await holder.held;
  let acknowledged = false;
  const sent = sensor.publishAsync("quillmere/shed/air", "2.5", { qos: 1 }).then(() => {
    acknowledged = true;
  });
  // SQLite itself waits for five seconds before it gives up.
  await until("it is said", () => log.lines.join("\n").includes("STORE_LOCKED"), 20_000);
  expect(acknowledged).toBe(false);
  holder.letGo();
  await sent;
  const store = openStore(config.store.folder, config.site, { mode: "look" });
  onTestFinished(() => store.close());
  expect(store.readings.count()).toBe(1);
  expect(log.lines.join("\n")).toContain("can be written again");
}, 60_000);

/** Whether this user may mount; root outside most containers. */
const mayMount = ((): boolean => {
  const folder = mkdtempSync(join(tmpdir(), "drowse-mount-"));
  const mounted = spawnSync("mount", ["-t", "tmpfs", "tmpfs", folder]).status === 0;
  if (mounted) spawnSync("umount", [folder]);
  rmSync(folder, { recursive: true });
  return mounted;
})();

test.skipIf(!mayMount)(
  "on a file system that has become read-only a start is refused by name, with the cure",
  async () => {
    const home = writeFiles({ "drowse.toml": PLAIN });
    const folder = join(home, "state");
    mkdirSync(folder);
    expect(spawnSync("mount", ["-t", "tmpfs", "tmpfs", folder]).status).toBe(0);
    onTestFinished(() => void spawnSync("umount", [folder]));
    const config = loadConfig(join(home, "drowse.toml"));
    openStore(folder, config.site).close();
    expect(spawnSync("mount", ["-o", "remount,ro", folder]).status).toBe(0);
    const ports = { clock: systemClock, log: openMemoryLog() };
    await expect(startKeep(config, ports)).rejects.toThrow(
      /^STORE_UNWRITABLE: .*state.* lies on a file system that is read-only/,
    );
  },
);
