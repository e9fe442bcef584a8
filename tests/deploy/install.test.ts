import { execFile } from "node:child_process";
import { existsSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { promisify } from "node:util";
import { expect, test } from "vitest";
import { loadConfig } from "../../daemon/config.js";

const run = promisify(execFile);
const DEPLOY = fileURLToPath(new URL("../../deploy/", import.meta.url));
type Locked = { dev?: boolean; hasInstallScript?: boolean; cpu?: string[]; os?: string[] };
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

test("removal takes away the program and the service, and neither config nor records", async () => {
  const { stdout } = await run(SCRIPT, ["--remove", "--dry-run"]);
  const removals = stdout.split("\n").filter((line) => /would run: (rm|userdel)/.test(line));
  expect(removals.join("\n")).toMatch(/\/opt\/drowse .*\n.*drowse\.service \/usr\/local\/bin/);
  expect(removals.join("\n")).not.toMatch(/\/etc\/drowse|\/var\/lib\/drowse|userdel/);
});

test("what runs needs a compiler for SQLite alone, and has builds for 64-bit ARM", () => {
  const lock = JSON.parse(readFileSync(join(DEPLOY, "../package-lock.json"), "utf8"));
  const runs = Object.entries(lock.packages as Record<string, Locked>).filter(([, p]) => !p.dev);
  const compiled = runs.filter(([, { hasInstallScript }]) => hasInstallScript);
  // Its own installer fetches a build, for ARM too, or compiles one where there is none.
  expect(compiled.map(([name]) => name)).toEqual(["node_modules/better-sqlite3"]);
  const families = new Map<string, string[]>();
  for (const [name, { cpu, os }] of runs)
    if (cpu !== undefined) {
      const family = name.replace(/-(android|darwin|linux|win32|freebsd)-.*$/, "");
      const kinds = families.get(family) ?? [];
      families.set(family, [...kinds, `${os?.join()} ${cpu.join()}`]);
    }
  expect([...families.keys()]).toEqual(["node_modules/@resvg/resvg-js"]);
  for (const [family, kinds] of families) expect(kinds, family).toContain("linux arm64");
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
  expect(unit).toMatch(/^MemoryMax=\d+M$/m);
  expect(unit).toContain("/opt/drowse/dist/daemon/main.js keep --config /etc/drowse/drowse.toml");
});

test("the unit lets Node ask for what it asks for at its start, and refuses the rest without a kill", () => {
  const unit = readFileSync(join(DEPLOY, "drowse.service"), "utf8").split("\n");
  // Seen in the kernel's audit record of a start under systemd 252: Node 20 on x86-64 was killed
  // for pkey_alloc, which @system-service does not hold (systemd-analyze syscall-filter).
  expect(unit).toContain("SystemCallFilter=@system-service @pkey");
  expect(unit).toContain("SystemCallErrorNumber=EPERM");
});
