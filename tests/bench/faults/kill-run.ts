import { createServer } from "node:net";
import { join } from "node:path";
import Database from "better-sqlite3";
import mqtt from "mqtt";
import { type Config, loadConfig } from "../../../daemon/config.js";
import { composeLetter } from "../../../daemon/letters/compose.js";
import { type NewLetter, openStore, type Store } from "../../../daemon/store/store.js";
import { MOMENT_MS } from "../../../rules/moment.js";
import { draw, seeded } from "../../../sensors/simulated/seeded.js";
import type { Finding } from "../../../shared/excursion.js";
import { DAY_MS, HOUR_MS, SECOND_MS } from "../../../shared/time.js";
import { asReading, judge } from "../../rules/quillmere.js";
import { type KeptChild, openKeptChild } from "../../whole/kept-child.js";

const PROBE = "shed-air";
const TOPIC = "quillmere/shed/air";
/** How long it lives after a start. */
const LIVES_MOST_MS = 250;
/** So many lives begin to count with their first reading; a busy machine takes long to get there. */
const SOON_SHARE = 0.7;
const NEXT_MOST_MS = 5 * SECOND_MS;
/** How many readings are on their way at once, those of one moment. A sensor that keeps what it
 * measured sends the next when these are acknowledged, so that none overtakes another. */
const ON_THEIR_WAY = 10;
/** Where nobody is killed more may be. */
const ON_THEIR_WAY_CALMLY = 500;
/** For each life, so that a thousand of them take no longer than a start judges again. */
const EACH_LIFE_COUNT = 60;
const AGAIN_MS = 20;
/** In each so many lives, more than the tests have, the sensor falters for longer than a start waits
 * for what was kept back, so that the judge is told the time, two days ahead of what it is still to
 * hear. */
const FALTERS_EACH = 30;
const FALTERS_MS = 7 * SECOND_MS;
/** So that some wait for their commit at any moment, even if they were acknowledged at once. */
const BETWEEN_MS = 40;
const STEP_MS = 2 * SECOND_MS;
/** A start without a memory judges the last two days. */
const FROM_MS = 2 * DAY_MS - HOUR_MS;
/** So much is calm before the kills begin; warmth begins then, for an hour in each three. */
const CALM_COUNT = (2 * HOUR_MS) / STEP_MS;
/** What is there in the end at least, so that an excursion has begun and ended. */
const READINGS_LEAST = (5 * HOUR_MS) / STEP_MS;

/** What a run of kills came to. */
export type KillRun = Readonly<{
  kills: number;
  readings: number;
  excursions: number;
  letters: number;
}>;

type Said = Readonly<{ atMs: number; payload: string }>;

/**
 * One probe's readings of the last two days, with an hour of warmth in each three. It begins with a
 * moment, for where the sensor falters between two the judge is told the time after a whole one.
 * Half a moment is a sample like any other, but one that the unkilled judge never sees, and a door
 * that is nearly told may then be told or not.
 */
function openSeries() {
  const fromMs = Math.floor(Date.now() / MOMENT_MS) * MOMENT_MS - FROM_MS;
  const times: number[] = [];
  const next = (): Said => {
    const atMs = fromMs + times.length * STEP_MS;
    const warmth = (times.length * STEP_MS) % (3 * HOUR_MS) > 2 * HOUR_MS ? 9 : 0;
    times.push(atMs);
    return { atMs, payload: JSON.stringify({ at: atMs, t: temperatureOf(atMs) + warmth }) };
  };
  return { fromMs, times, next };
}

const temperatureOf = (atMs: number) => 2 + (Math.floor(atMs / STEP_MS) % 10) / 10;
const pause = (ms: number) => new Promise((resolve) => setTimeout(resolve, ms));

function insist(isSo: boolean, what: string): void {
  if (!isSo) throw new Error(what);
}

async function freePort(): Promise<number> {
  const server = createServer().listen(0, "127.0.0.1");
  await new Promise((resolve) => server.once("listening", resolve));
  const { port } = server.address() as { port: number };
  await new Promise((resolve) => server.close(resolve));
  return port;
}

/** Publishes as a sensor does that must deliver: in order, and again until it is acknowledged. */
function openSensor(port: number) {
  const client = mqtt.connect({
    host: "127.0.0.1",
    port,
    clientId: "sensor",
    clean: false,
    reconnectPeriod: 20,
  });
  client.on("error", () => {});
  const acknowledged: number[] = [];
  let onNext = (): void => {};
  const send = async ({ atMs, payload }: Said): Promise<boolean> => {
    try {
      await client.publishAsync(TOPIC, payload, { qos: 1 });
      acknowledged.push(atMs);
      onNext();
      return true;
    } catch {
      // mqtt.js gives up what is published while it resends; a sensor then says it again.
      return false;
    }
  };
  return {
    acknowledged,
    /** Until the next reading is acknowledged, or there seems to be none. */
    untilNext: (): Promise<unknown> =>
      Promise.race([
        new Promise<void>((resolve) => {
          onNext = resolve;
        }),
        pause(NEXT_MOST_MS),
      ]),
    deliver: async (some: readonly Said[]): Promise<void> => {
      for (let left = some; left.length > 0 && !client.disconnecting; ) {
        const isDone = await Promise.all(left.map(send));
        left = left.filter((_, i) => !isDone[i]);
        if (left.length > 0) await pause(AGAIN_MS);
      }
    },
    close: () => client.endAsync(true),
  };
}

/**
 * Kill `drowse keep` (SIGKILL) again and again while a sensor publishes to its broker, and hold
 * what is in the store against what was acknowledged, after each kill, and against what a judge
 * finds who was never killed, at the end.
 *
 * @param tell called after each kill with how many there were
 * @throws {Error} that says what was lost, came twice or was damaged
 */
export async function runKills(
  kills: number,
  seed: number,
  tell: (done: number) => void = () => {},
): Promise<KillRun> {
  const port = await freePort();
  const child = openKeptChild(`[broker]\nembedded = "127.0.0.1:${port}"`);
  const random = seeded(seed, "kills");
  const { times, next } = openSeries();
  let sensor: ReturnType<typeof openSensor> | null = null;
  try {
    await child.start("listening");
    sensor = openSensor(port);
    const { acknowledged, deliver } = sensor;
    const publish = async (count: number, together: number): Promise<void> => {
      for (let left = count; left > 0; left -= together) {
        await deliver(Array.from({ length: Math.min(left, together) }, next));
        if (together === ON_THEIR_WAY) await pause(BETWEEN_MS);
      }
    };
    await publish(CALM_COUNT, ON_THEIR_WAY_CALMLY);
    let publishing = Promise.resolve();
    let held = 0;
    for (let done = 1; done <= kills; done++) {
      if (done % FALTERS_EACH === 0) {
        await publishing;
        await pause(FALTERS_MS);
      }
      publishing = publishing.then(() => publish(EACH_LIFE_COUNT, ON_THEIR_WAY));
      // Some die before anything reached them, most while readings come in.
      if (draw(random) < SOON_SHARE) await sensor.untilNext();
      await pause(draw(random) * LIVES_MOST_MS);
      await child.kill();
      held = insistHeld(child, acknowledged, held);
      await child.start("listening");
      tell(done);
    }
    await publishing;
    await publish(READINGS_LEAST - times.length, ON_THEIR_WAY_CALMLY);
    insist((await child.stop()) === 0, "it did not stop by itself");
    return compareWithUnkilled(child, times, kills);
  } finally {
    await sensor?.close();
    await child.remove();
  }
}

function lookInto<T>(child: KeptChild, look: (store: Store, config: Config) => T): T {
  const config = loadConfig(join(child.folder, "drowse.toml"));
  const store = openStore(config.store.folder, config.site, { mode: "look" });
  try {
    return look(store, config);
  } finally {
    store.close();
  }
}

/** That all is stored which was acknowledged since the last look. @returns how many were looked at */
function insistHeld(child: KeptChild, acknowledged: readonly number[], from: number): number {
  const promised = acknowledged.slice(from);
  if (promised.length === 0) return from;
  const stored = lookInto(child, ({ readings }) => [
    ...readings.between(PROBE, Math.min(...promised), Math.max(...promised) + 1),
  ]);
  const times = new Set(stored.map(({ takenAtMs }) => takenAtMs));
  const lost = promised.filter((atMs) => !times.has(atMs));
  insist(lost.length === 0, `${lost.length} readings were acknowledged and are not stored`);
  insistSound(child);
  return from + promised.length;
}

function insistSound({ folder }: KeptChild): void {
  const db = new Database(join(folder, "state", "drowse.db"), { readonly: true });
  try {
    const answer = db.pragma("integrity_check", { simple: true });
    insist(answer === "ok", `integrity_check: ${String(answer)}`);
  } finally {
    db.close();
  }
}

/** What the store holds is what one process would have made of the same readings. */
function compareWithUnkilled(child: KeptChild, times: readonly number[], kills: number): KillRun {
  return lookInto(child, (store, { site }) => {
    const readings = [...store.readings.between(PROBE, 0, Number.MAX_SAFE_INTEGER)];
    const stored = JSON.stringify(readings.map(({ takenAtMs }) => takenAtMs));
    insist(stored === JSON.stringify(times), "not every reading is there once");
    const { findings } = judge(readings.map(asReading), site);
    const ids = [...new Set(findings.map(({ excursionId }) => excursionId))].sort();
    const changes = (some: readonly Finding[]) =>
      JSON.stringify(some.map(({ atMs, change, cause }) => [atMs, change, cause]));
    const kept = store.excursions.between(0, Number.MAX_SAFE_INTEGER).map(({ id }) => id);
    insist(JSON.stringify(kept.sort()) === JSON.stringify(ids), `excursions ${kept}, not ${ids}`);
    for (const id of ids) {
      const own = findings.filter(({ excursionId }) => excursionId === id);
      insist(changes(store.excursions.history(id)) === changes(own), `history of ${id}`);
    }
    const due: NewLetter[] = [];
    for (const finding of findings) {
      const earlier = due.filter(({ excursionId }) => excursionId === finding.excursionId);
      const context = { site, temperatureUnit: "C", earlier, trouble: null } as const;
      due.push(...[composeLetter(finding, context) ?? []].flat());
    }
    const letters = store.letters.between(0, Number.MAX_SAFE_INTEGER);
    // Digests and reminders come by the clock, and not by what is found.
    const byFinding = letters.filter(({ letter: { kind } }) => !/digest|reminder/.test(kind));
    const told = byFinding.map(({ letter }) => letter.id);
    const [is, must] = [told, due.map(({ id }) => id)].map((list) =>
      JSON.stringify([...list].sort()),
    );
    insist(is === must, `letters ${is}, not ${must}`);
    return { kills, readings: times.length, excursions: ids.length, letters: told.length };
  });
}
