import { mkdirSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { connectAsync, type MqttClient } from "mqtt";
import { onTestFinished } from "vitest";
import type { Clock } from "../../daemon/clock.js";
import { loadConfig } from "../../daemon/config.js";
import { type Keeping, startKeep } from "../../daemon/keep.js";
import { writePace } from "../../daemon/rehearsal/fast-clock.js";
import { SECOND_MS } from "../../shared/time.js";
import { runDrowse } from "../command.js";
import { testFolder } from "../daemon/config/written-config.js";
import { AUTUMN_MS, type Message } from "./year-station.js";

const probe = (id: string, place: string, topic: string, seconds: number, more: string) => `
[[probe]]
id = "${id}"
place = "${place}"
topic = "quillmere/${topic}"
payload = "json"
temperature = "/temperature"
time = "/time"
interval_s = ${seconds}
${more}`;

const IN_SHED = 'chamber = "shed"\nhumidity = "/humidity"\n';
const CONFIG = `
[site]
name = "Quillmere shed"
timezone = "Europe/London"
keepers = ["keeper@quillmere.example"]

[broker]
embedded = "127.0.0.1:0"

[store]
group_s = 0

[page]
listen = "127.0.0.1:0"

[[chamber]]
id = "shed"
band_c = [1.1, 4]
humidity_band_pct = [50, 90]

[[chamber]]
id = "loft"
${probe("shed-air", "air", "shed/air", 900, IN_SHED)}${probe("shed-box", "box", "shed/box", 900, IN_SHED)}${probe("loft-box", "box", "loft/box", 3600, 'chamber = "loft"\n')}${probe("yard", "outdoors", "yard", 3600, "")}`;

/** Messages on their way at once. */
const UNDERWAY_MOST = 256;

/**
 * Drowse and its keeper in simulated time: sensors publish over MQTT, the keeper types commands
 * and uses pages, and nobody sleeps.
 */
export async function openRehearsal(messages: Generator<Message, void, undefined>) {
  const folder = testFolder();
  const state = join(folder, "state");
  mkdirSync(state);
  writeFileSync(join(folder, "drowse.toml"), CONFIG);
  let nowMs = AUTUMN_MS;
  /** Silences of the sensors that no reading shows. */
  let quietMs = 0;
  // Simulated time stands while acknowledgements are on their way, and commits wait for it to go on.
  const clock: Clock = {
    nowMs: () => nowMs,
    monotonicMs: () => nowMs - AUTUMN_MS + quietMs + performance.now(),
  };
  const errors: string[] = [];
  const log = {
    info: () => {},
    warn: () => {},
    error: (facts: object, words: string) => void errors.push(`${words} ${JSON.stringify(facts)}`),
  };
  let keeping: Keeping | null = null;
  let client: MqttClient | null = null;
  let next = messages.next();

  const stop = async () => {
    await client?.endAsync();
    await keeping?.close();
    [client, keeping] = [null, null];
  };
  const start = async () => {
    const config = loadConfig(join(folder, "drowse.toml"));
    keeping = await startKeep(config, { clock, log });
    client = await connectAsync(`mqtt://127.0.0.1:${keeping.port}`, { clientId: "quillmere" });
  };
  onTestFinished(stop);
  await start();

  /** The clock of commands, which are processes of their own. */
  const tellTime = () => writePace(state, { fromMs: nowMs, atMs: 0, speed: 1, stoodAtMs: nowMs });

  const publish = async ({ atMs, topic, payload }: Message, underway: Set<Promise<unknown>>) => {
    nowMs = Math.max(nowMs, atMs);
    if (underway.size >= UNDERWAY_MOST) await Promise.race(underway);
    const sent: Promise<unknown> = client!
      .publishAsync(topic, payload, { qos: 1 })
      .finally(() => underway.delete(sent));
    underway.add(sent);
  };

  return {
    folder,
    errors,
    /**
     * Live on until an instant: all that sensors say till then is published and acknowledged. They
     * pour it in as sensors do that were out of reach. After a silence comes the last message, on
     * time, and all of them are judged.
     */
    liveUntil: async (untilMs: number) => {
      const underway = new Set<Promise<unknown>>();
      let last: Message | null = null;
      for (; next.done !== true && next.value.atMs <= untilMs; next = messages.next()) {
        if (last !== null) await publish(last, underway);
        last = next.value;
      }
      await Promise.all(underway);
      quietMs += 10 * SECOND_MS;
      if (last !== null) await publish(last, underway);
      await Promise.all(underway);
      nowMs = untilMs;
      tellTime();
    },
    restart: async () => {
      await stop();
      await start();
    },
    /** Type a command that must do its work. */
    type: async (...args: readonly string[]) => {
      const { code, stdout, stderr } = await runDrowse(args, folder);
      if (code !== 0) throw new Error(`drowse ${args.join(" ")} ended with ${code}: ${stderr}`);
      return stdout;
    },
    /** Ask a page, or post a form of it. */
    ask: async (path: string, form?: Readonly<Record<string, string>>) => {
      const base = keeping!.pageAddress!.replace(/\/$/, "");
      const body = form === undefined ? {} : { body: new URLSearchParams(form), method: "POST" };
      const answer = await fetch(base + path, { ...body, headers: { origin: base } });
      return { status: answer.status, text: await answer.text() };
    },
    stop,
  };
}
