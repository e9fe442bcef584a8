import { type ChildProcess, spawn } from "node:child_process";
import { existsSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { connect, createServer } from "node:net";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { until } from "./until.js";

const PROGRAM = ["/usr/sbin/mosquitto", "/usr/local/sbin/mosquitto", "/usr/bin/mosquitto"].find(
  existsSync,
);

/**
 * Why tests against a real mosquitto can't run here, or false. With CI=true they must run, so a
 * missing program then fails them instead.
 */
export const noMosquitto: string | false =
  PROGRAM !== undefined || process.env.CI === "true"
    ? false
    : "mosquitto is missing: apt install mosquitto mosquitto-clients";
if (noMosquitto !== false) console.warn(`skipped: ${noMosquitto}`);

/** A free port of this instant. */
export async function freePort(): Promise<number> {
  const server = createServer().listen(0, "127.0.0.1");
  await new Promise((resolve) => server.once("listening", resolve));
  const { port } = server.address() as { port: number };
  await new Promise((resolve) => server.close(resolve));
  return port;
}

/** A real mosquitto on loopback that can be stopped and started again on its port. */
export type Mosquitto = Readonly<{
  port: number;
  start(): Promise<void>;
  stop(): Promise<void>;
  /** Stop it and forget its files. */
  close(): Promise<void>;
}>;

/**
 * @param settings further lines of mosquitto.conf; PORT and FOLDER in them are replaced
 * @param files further files of its folder, by name
 */
export async function openMosquitto(
  settings: readonly string[] = [],
  files: Readonly<Record<string, string>> = {},
): Promise<Mosquitto> {
  const folder = mkdtempSync(join(tmpdir(), "drowse-mosquitto-"));
  const port = await freePort();
  const own = ["listener PORT 127.0.0.1", "allow_anonymous true", "user root"];
  const text = [...own, ...settings].join("\n").replaceAll("PORT", String(port));
  writeFileSync(join(folder, "mosquitto.conf"), `${text.replaceAll("FOLDER", folder)}\n`);
  for (const [name, text] of Object.entries(files)) writeFileSync(join(folder, name), text);
  let running: ChildProcess | null = null;
  const start = async () => {
    running = spawn(PROGRAM ?? "mosquitto", ["-c", join(folder, "mosquitto.conf")], {
      stdio: "ignore",
    });
    await until("mosquitto listens", () => canConnect(port));
  };
  const stop = async () => {
    const ending = running;
    running = null;
    if (ending === null || ending.exitCode !== null) return;
    const ended = new Promise((resolve) => ending.once("exit", resolve));
    ending.kill("SIGKILL");
    await ended;
  };
  const close = async () => {
    await stop();
    rmSync(folder, { recursive: true, force: true });
  };
  await start();
  return { port, start, stop, close };
}

function canConnect(port: number): Promise<boolean> {
  return new Promise((resolve) => {
    const socket = connect(port, "127.0.0.1");
    socket.once("connect", () => resolve(true));
    socket.once("error", () => resolve(false));
    socket.once("connect", () => socket.destroy());
  });
}
