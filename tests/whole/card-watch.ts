import { mkdirSync } from "node:fs";
import { join } from "node:path";
import { connectAsync } from "mqtt";
import { onTestFinished } from "vitest";
import { loadConfig } from "../../daemon/config.js";
import { startKeep } from "../../daemon/keep.js";
import { fastClock } from "../../daemon/rehearsal/fast-clock.js";
import { MINUTE_MS } from "../../shared/time.js";
import { mailTo, PLAIN, writeFiles } from "../daemon/config/written-config.js";
import { openInbox } from "../daemon/mail/inbox.js";

const withMail = (port: number) =>
  `${PLAIN.replace(
    'payload = "number"',
    'payload = "json"\ntemperature = "/t"\ntime = "/at"',
  )}${mailTo(port)}`;

// Ten minutes in a second: the waits of the commit loop run by the machine's clock.
const SPEED = 600;
const BEGAN_MS = Date.parse("2026-12-01T08:00:00Z");

/**
 * A watch whose store lies on a card of its own, with a mail server, and a reading of ten hours ago
 * in it. All is closed with the test.
 *
 * @param layCard lays the card under the store's empty folder, before the watch begins
 */
export async function openCardWatch<Card>(layCard: (folder: string) => Card) {
  const inbox = await openInbox();
  onTestFinished(() => inbox.close());
  const home = writeFiles({ "drowse.toml": withMail(inbox.port), "ca.pem": inbox.ca });
  const folder = join(home, "state");
  mkdirSync(folder);
  const card = layCard(folder);
  const config = loadConfig(join(home, "drowse.toml"));
  const lines: string[] = [];
  const say = (fields: object, message: string) =>
    void lines.push(`${message} ${JSON.stringify(fields)}`);
  const log = { info: say, warn: say, error: say };
  const clock = fastClock({ fromMs: BEGAN_MS, atMs: Date.now(), speed: SPEED });
  const keeping = await startKeep(config, { clock, log });
  onTestFinished(() => keeping.close());
  const sensor = await connectAsync(`mqtt://127.0.0.1:${keeping.port}`, {
    clean: false,
    clientId: "sensor",
  });
  onTestFinished(() => sensor.endAsync(true));
  const publish = (atMs: number, t: number) =>
    sensor.publishAsync("quillmere/shed/air", JSON.stringify({ at: atMs, t }), { qos: 1 });
  await publish(BEGAN_MS - 600 * MINUTE_MS, 2.2);
  return {
    card,
    folder,
    config,
    clock,
    log,
    lines,
    keeping,
    inbox,
    subjects: () => inbox.arrived.map(({ mail }) => mail.subject ?? ""),
    /**
     * Nine hours of a fridge whose compressor stopped after the first of them, a reading each so
     * many minutes. @returns their acknowledgements
     */
    publishWarmth: (eachMin: number): Promise<unknown>[] => {
      const acknowledged: Promise<unknown>[] = [];
      for (let minute = eachMin - 600; minute < -20; minute += eachMin) {
        const t = Math.min(18, 2.2 + Math.max(0, minute + 540) * 0.1);
        acknowledged.push(publish(BEGAN_MS + minute * MINUTE_MS, t));
      }
      return acknowledged;
    },
  };
}
