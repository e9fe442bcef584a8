import { execFile } from "node:child_process";
import { existsSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { promisify } from "node:util";
import { expect, test } from "vitest";
import { loadConfig } from "../../daemon/config.js";

const run = promisify(execFile);
const DEPLOY = fileURLToPath(new URL("../../deploy/", import.meta.url));
const SCRIPT = join(DEPLOY, "install.sh");

test("a dry run says what it would do and does none of it", async () => {
  const before = ["/opt/drowse.new", "/etc/systemd/system/drowse.service"].map(existsSync);
  const { stdout } = await run(SCRIPT, ["--dry-run"]);
  const indented = stdout.split("\n").filter((line) => line.includes("/opt/drowse"));
  expect(indented.length).toBeGreaterThan(3);
  for (const line of indented.slice(1)) expect(line).toMatch(/^ {2}would /);
  expect(stdout).toMatch(/would run: systemctl enable drowse\.service/);
  const after = ["/opt/drowse.new", "/etc/systemd/system/drowse.service"].map(existsSync);
  expect(after).toEqual(before);
});

test("an unknown option exits 2", async () => {
  await expect(run(SCRIPT, ["--dryrun"])).rejects.toMatchObject({
    code: 2,
    stderr: expect.stringContaining("--dry-run"),
  });
});

test("the example config is sound as it stands", () => {
  const { site, broker, mail, store } = loadConfig(join(DEPLOY, "drowse.toml"));
  expect(site.probes).toHaveLength(1);
  expect(broker).toMatchObject({ kind: "embedded", port: 1883 });
  expect(mail).toBeNull();
  expect(store.folder).toBe("/var/lib/drowse");
});

test("what the example has in comments are keys that Drowse knows", () => {
  const text = readFileSync(join(DEPLOY, "drowse.toml"), "utf8");
  const keys = [...text.matchAll(/^# ?(\w+) = /gm)].map(([, key]) => key!);
  expect(keys.length).toBeGreaterThan(10);
  const sections = readFileSync(join(DEPLOY, "../daemon/config/sections.ts"), "utf8");
  for (const key of keys) expect(sections, key).toMatch(new RegExp(`^ +${key}: `, "m"));
});

test("the unit restarts always, feeds a watchdog and starts what the script installs", () => {
  const unit = readFileSync(join(DEPLOY, "drowse.service"), "utf8");
  for (const line of ["Restart=always", "Type=notify", "NotifyAccess=all", "User=drowse"])
    expect(unit.split("\n")).toContain(line);
  expect(unit).toMatch(/^WatchdogSec=\d+$/m);
  expect(unit).toContain("/opt/drowse/dist/daemon/main.js keep --config /etc/drowse/drowse.toml");
});
