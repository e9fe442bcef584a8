import { type ChildProcess, spawn } from "node:child_process";
import { existsSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { openStore } from "../../daemon/store/store.js";
import type { Reading } from "../../shared/reading.js";

/** The built command: seen from the sources, or from beside it where a bench was built too. */
const COMMAND = ["../../dist/daemon/main.js", "../../daemon/main.js"]
  .map((path) => fileURLToPath(new URL(path, import.meta.url)))
  .find(existsSync)!;
const TIMEZONE = "Europe/London";

/** A folder with a config for one probe, and `drowse keep` on it as a process of its own. */
export type KeptChild = Readonly<{
  folder: string;
  /** Start it; resolves when its log first has `line`. */
  start(line: string): Promise<void>;
  /** End it as a power cut would. */
  kill(): Promise<void>;
  /** End it politely. @returns its exit code */
  stop(): Promise<number | null>;
  /** What it has logged since its last start. */
  log(): string;
  /** What the store holds of the probe, read while the child runs or not. */
  stored(): Reading[];
  remove(): Promise<void>;
}>;

/** @param sections TOML of [broker], and of [store] where it is not the default */
export function openKeptChild(sections: string): KeptChild {
  const folder = mkdtempSync(join(tmpdir(), "drowse-kept-"));
  const file = join(folder, "drowse.toml");
  writeFileSync(file, config(sections));
  let running: ChildProcess | null = null;
  let log = "";

  const start = (line: string) =>
    new Promise<void>((resolve, reject) => {
      log = "";
      const child = spawn(process.execPath, [COMMAND, "keep", "--config", file], {
        stdio: ["ignore", "ignore", "pipe"],
      });
      running = child;
      const late = setTimeout(() => reject(new Error(`never logged "${line}":\n${log}`)), 60_000);
      child.stderr!.on("data", (text) => {
        log += text;
        if (!log.includes(line)) return;
        clearTimeout(late);
        resolve();
      });
      child.once("exit", (code) => {
        clearTimeout(late);
        reject(new Error(`ended with ${code}:\n${log}`));
      });
    });

  const end = async (signal: NodeJS.Signals) => {
    const child = running;
    running = null;
    if (child === null || child.exitCode !== null || child.signalCode !== null) return null;
    const ended = new Promise<number | null>((resolve) => child.once("exit", resolve));
    child.kill(signal);
    return ended;
  };

  const stored = () => {
    const site = { timezone: TIMEZONE };
    const store = openStore(join(folder, "state"), site, { mode: "look" });
    try {
      return [...store.readings.between("shed-air", 0, Number.MAX_SAFE_INTEGER)];
    } finally {
      store.close();
    }
  };

  return {
    folder,
    start,
    kill: async () => {
      await end("SIGKILL");
    },
    stop: () => end("SIGTERM"),
    log: () => log,
    stored,
    remove: async () => {
      await end("SIGKILL");
      rmSync(folder, { recursive: true, force: true });
    },
  };
}

const config = (sections: string) => `
[site]
name = "Quillmere"
timezone = "${TIMEZONE}"
keepers = ["keeper@example.org"]

${sections}

[[chamber]]
id = "shed"

[[probe]]
id = "shed-air"
chamber = "shed"
place = "air"
topic = "quillmere/shed/air"
payload = "json"
temperature = "/t"
time = "/at"
interval_s = 10
`;
