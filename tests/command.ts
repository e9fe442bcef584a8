import { type ChildProcess, spawn } from "node:child_process";
import { once } from "node:events";
import { fileURLToPath } from "node:url";
import { onTestFinished } from "vitest";

const MAIN = fileURLToPath(new URL("../dist/daemon/main.js", import.meta.url));

/** What a command left when it had ended. */
export type Ended = Readonly<{ code: number | null; stdout: string; stderr: string }>;

/** A command under way. */
export type Running = Readonly<{
  child: ChildProcess;
  /** All that it printed so far. */
  printed(): string;
  /** Resolves with the first match in what it prints, rejects once it has ended without. */
  untilPrints(pattern: RegExp): Promise<RegExpExecArray>;
  ended: Promise<Ended>;
}>;

/** Start the built `drowse` command; it is killed at the end of the test if it still runs. */
export function startDrowse(args: readonly string[], cwd: string): Running {
  const child = spawn(process.execPath, [MAIN, ...args], {
    cwd,
    stdio: ["ignore", "pipe", "pipe"],
  });
  let stdout = "";
  let stderr = "";
  child.stdout.setEncoding("utf8").on("data", (text: string) => {
    stdout += text;
  });
  child.stderr.setEncoding("utf8").on("data", (text: string) => {
    stderr += text;
  });
  const ended = once(child, "close").then(([code]) => ({ code, stdout, stderr }) as Ended);
  onTestFinished(async () => {
    child.kill("SIGKILL");
    await ended;
  });
  const printed = () => stdout + stderr;
  const untilPrints = (pattern: RegExp) =>
    new Promise<RegExpExecArray>((resolve, reject) => {
      const look = () => {
        const match = pattern.exec(printed());
        if (match !== null) resolve(match);
      };
      child.stdout.on("data", look);
      child.stderr.on("data", look);
      ended.then(() => reject(new Error(`never printed ${pattern}:\n${printed()}`)), reject);
      look();
    });
  return { child, printed, untilPrints, ended };
}

/** Run the built `drowse` command to its end. */
export function runDrowse(args: readonly string[], cwd: string): Promise<Ended> {
  return startDrowse(args, cwd).ended;
}
