import { spawnSync } from "node:child_process";
import { closeSync, mkdirSync, mkdtempSync, openSync, rmSync, writeSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { connectAsync } from "mqtt";
import { expect, onTestFinished, test } from "vitest";
import { loadConfig } from "../../daemon/config.js";
import { startKeep } from "../../daemon/keep.js";
import { fastClock } from "../../daemon/rehearsal/fast-clock.js";
import { openStore } from "../../daemon/store/store.js";
import { MINUTE_MS } from "../../shared/time.js";
import { PLAIN, writeFiles } from "../daemon/config/written-config.js";
import { openInbox } from "../daemon/mail/inbox.js";
import { until } from "../daemon/mqtt/until.js";

/** A disk of its own in memory, so that it can be filled. */
function mountSmall(folder: string): boolean {
  return spawnSync("mount", ["-t", "tmpfs", "-o", "size=3m", "tmpfs", folder]).status === 0;
}

/** Whether this user may mount; root outside most containers. */
const mayMount = ((): boolean => {
  const folder = mkdtempSync(join(tmpdir(), "drowse-mount-"));
  const mounted = mountSmall(folder);
  if (mounted) spawnSync("umount", [folder]);
  rmSync(folder, { recursive: true });
  return mounted;
})();

/** Write until nothing more fits. */
function fill(file: string): void {
  const handle = openSync(file, "w");
  try {
    for (const block = Buffer.alloc(512); ; ) writeSync(handle, block);
  } catch (error) {
    expect((error as NodeJS.ErrnoException).code).toBe("ENOSPC");
  } finally {
    closeSync(handle);
  }
}

const withMail = (port: number) => `${PLAIN.replace(
  'payload = "number"',
  'payload = "json"\ntemperature = "/t"\ntime = "/at"',
)}
[mail]
host = "127.0.0.1"
port = ${port}
security = "starttls"
ca_file = "ca.pem"
from = "Drowse <drowse@quillmere.example>"
`;

// Ten minutes in a second: the waits of the commit loop run by the machine's clock.
const SPEED = 600;
const BEGAN_MS = Date.parse("2026-12-01T08:00:00Z");

test.skipIf(!mayMount)(
  "on a full disk letters still go out, the keeper is told, and all is stored when there is room",
  async () => {
    const inbox = await openInbox();
    onTestFinished(() => inbox.close());
    const home = writeFiles({ "drowse.toml": withMail(inbox.port), "ca.pem": inbox.ca });
    const folder = join(home, "state");
    mkdirSync(folder);
    expect(mountSmall(folder)).toBe(true);
    onTestFinished(() => void spawnSync("umount", [folder]));
    const lines: string[] = [];
    const say = (_fields: object, message: string) => void lines.push(message);
    const clock = fastClock({ fromMs: BEGAN_MS, atMs: Date.now(), speed: SPEED });
    const config = loadConfig(join(home, "drowse.toml"));
    const log = { info: say, warn: say, error: say };
    const keeping = await startKeep(config, { clock, log });
    onTestFinished(() => keeping.close());
    const sensor = await connectAsync(`mqtt://127.0.0.1:${keeping.port}`);
    onTestFinished(() => sensor.endAsync(true));
    const publish = (atMs: number, t: number) =>
      sensor.publishAsync("quillmere/shed/air", JSON.stringify({ at: atMs, t }), { qos: 1 });

    await publish(BEGAN_MS - 600 * MINUTE_MS, 2.2);
    fill(join(folder, "filler"));
    // Nine hours of a fridge whose compressor stopped after the first of them.
    const kept: Promise<unknown>[] = [];
    for (let minute = -599; minute < -20; minute++) {
      const t = Math.min(18, 2.2 + Math.max(0, minute + 540) * 0.1);
      kept.push(publish(BEGAN_MS + minute * MINUTE_MS, t));
    }
    const subjects = () => inbox.arrived.map(({ mail }) => mail.subject ?? "");
    await until("the cocoons are told of", () => subjects().some((s) => /shed$/.test(s)), 30_000);
    await until(
      "the disk is told of",
      () => subjects().some((s) => s.startsWith("Free some room")),
      30_000,
    );
    expect(lines.filter((line) => line.startsWith("the store can't be written"))).toHaveLength(1);

    rmSync(join(folder, "filler"));
    await Promise.all(kept);
    await keeping.close();
    const store = openStore(folder, config.site, { mode: "look" });
    onTestFinished(() => store.close());
    expect([...store.readings.between("shed-air", 0, Infinity)]).toHaveLength(580);
    const posted = store.letters.between(0, Infinity);
    const told = inbox.arrived.map(({ mail }) => mail.messageId).sort();
    const marked = posted.filter(({ deliveries }) => deliveries.every((d) => d.sentAtMs !== null));
    // Each letter that is marked as sent went out once, those from memory among them.
    expect(told).toEqual(marked.map(({ letter }) => letter.messageId).sort());
    expect(marked.some(({ letter }) => letter.kind === "board")).toBe(true);
  },
  120_000,
);
