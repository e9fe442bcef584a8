import { spawn } from "node:child_process";
import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { type Point, theilSen } from "../../rules/trend.js";
import { askedNumbers } from "./numbers.js";

/*
 * A rehearsal of twelve days at 800 times their pace: how memory and open handles of the process
 * grow once three days have passed. What is kept of hours and minutes has filled by then (see
 * `daemon/store/rollups.ts`), and every cause of the rehearsal has had its letters.
 * `--hours N` and `--speed N` for another stretch and pace.
 */

const { hours: HOURS, speed: SPEED } = askedNumbers({ hours: 288, speed: 800 });
const LOOK_EACH_MS = 15_000;
/** Three days of the twelve. */
const WARM_UP_SHARE = 0.25;
/** A winter of 150 days may take so much; our choice, half of what the service may. */
const WINTER_MOST_MB = 256;
const WINTER_H = 150 * 24;
const COMMAND = fileURLToPath(new URL("../../daemon/main.js", import.meta.url));

type Look = Readonly<{ hour: number; residentMb: number; handles: number }>;

function lookAt(pid: number, hour: number): Look {
  const status = readFileSync(`/proc/${pid}/status`, "utf8");
  const kilobytes = Number(/^VmRSS:\s+(\d+) kB$/m.exec(status)?.[1]);
  return { hour, residentMb: kilobytes / 1_024, handles: readdirSync(`/proc/${pid}/fd`).length };
}

const line = (looks: readonly Look[], y: (look: Look) => number) => {
  const points: Point[] = looks.map((look) => ({ x: look.hour, y: y(look) }));
  return theilSen(points);
};

async function soak(): Promise<boolean> {
  const folder = mkdtempSync(join(tmpdir(), "drowse-soak-"));
  const seconds = Math.ceil((HOURS * 3_600) / SPEED);
  const args = [COMMAND, "rehearse", "--speed", String(SPEED), "--for", String(seconds)];
  const child = spawn(process.execPath, args, {
    cwd: folder,
    stdio: ["ignore", "pipe", "inherit"],
  });
  let said = "";
  child.stdout.on("data", (text) => {
    said += text;
  });
  const looks: Look[] = [];
  const startedMs = performance.now();
  const looking = setInterval(() => {
    const hour = ((performance.now() - startedMs) / 3_600_000) * SPEED;
    looks.push(lookAt(child.pid!, hour));
    const address = /http:\/\/127\.0\.0\.1:\d+\//.exec(said)?.[0];
    // A keeper who looks all the time; what comes of it is no part of this.
    if (address !== undefined)
      fetch(address).then(
        (answer) => answer.text(),
        () => {},
      );
  }, LOOK_EACH_MS);
  const code = await new Promise<number | null>((resolve) => child.once("exit", resolve));
  clearInterval(looking);
  rmSync(folder, { recursive: true, force: true });
  const warm = looks.slice(Math.floor(looks.length * WARM_UP_SHARE));
  const [memory, handles] = [line(warm, (l) => l.residentMb), line(warm, (l) => l.handles)];
  if (code !== 0 || memory === null || handles === null) {
    console.log(`soak: ended with ${code} after ${looks.length} looks`);
    return false;
  }
  const winterMb = memory.slope * WINTER_H;
  const first = warm[0]!;
  const last = warm.at(-1)!;
  console.log(
    `${HOURS} h at ${SPEED} times: memory ${first.residentMb.toFixed(0)} MB at hour ` +
      `${first.hour.toFixed(0)}, ${last.residentMb.toFixed(0)} MB at the end, slope ` +
      `${(memory.slope * 1_024).toFixed(1)} KB an hour (90 %: ${(memory.slopeSpan.low * 1_024).toFixed(1)} ` +
      `to ${(memory.slopeSpan.high * 1_024).toFixed(1)}), ${winterMb.toFixed(0)} MB a winter; handles ` +
      `${first.handles} and ${last.handles}, slope ${handles.slope.toFixed(2)} an hour`,
  );
  return winterMb < WINTER_MOST_MB && last.handles <= first.handles + 4;
}

if (!existsSync("/proc/self/fd")) console.log("soak: not measured, for want of /proc (Linux)");
else if (!(await soak())) process.exitCode = 1;
