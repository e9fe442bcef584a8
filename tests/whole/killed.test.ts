import { spawn } from "node:child_process";
import { afterEach, expect, test } from "vitest";
import { runKills } from "../bench/faults/kill-run.js";
import { noMosquitto, openMosquitto } from "../daemon/mqtt/mosquitto.js";
import { until } from "../daemon/mqtt/until.js";
import { type KeptChild, openKeptChild } from "./kept-child.js";

const KILLS = 25;
const TOPIC = "quillmere/shed/air";
const SEED = 1883;

const closes: Array<() => unknown> = [];
afterEach(async () => {
  for (const close of closes.splice(0).reverse()) await close();
});

/** A small generator, so that a failure can be played again with its seed. */
function seeded(seed: number): () => number {
  let state = seed;
  return () => {
    state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0;
    return state / 2 ** 32;
  };
}

const pause = (ms: number) => new Promise((resolve) => setTimeout(resolve, ms));

/** One probe's readings since yesterday, one a second, as many as are asked for. */
function openSeries() {
  const fromMs = Math.floor(Date.now() / 1_000) * 1_000 - 86_400_000;
  const times: number[] = [];
  const next = (): { atMs: number; payload: string } => {
    const atMs = fromMs + times.length * 1_000;
    const payload = JSON.stringify({ at: atMs, t: 2 + (times.length % 10) / 10 });
    times.push(atMs);
    return { atMs, payload };
  };
  return { times, next };
}

/** Publish four readings each 80 ms for as long as `isOn`, and a hundred more after that. */
async function publishWhile(isOn: () => boolean, publish: () => void): Promise<void> {
  while (isOn()) {
    for (let n = 0; n < 4; n++) publish();
    await pause(80);
  }
  for (let n = 0; n < 100; n++) publish();
}

function expectEachOnce(child: KeptChild, times: readonly number[]): void {
  const stored = child.stored();
  expect(stored.map(({ takenAtMs }) => takenAtMs)).toEqual(times);
  stored.forEach(({ temperatureC }, i) => {
    expect(temperatureC).toBeCloseTo(2 + (i % 10) / 10, 6);
  });
}

test.skipIf(noMosquitto !== false)(
  "killed 25 times while mosquitto_pub publishes to a real mosquitto, every reading is there once",
  async () => {
    const mosquitto = await openMosquitto(["max_queued_messages 0"]);
    closes.push(() => mosquitto.close());
    const child = openKeptChild(`[broker]\nurl = "mqtt://127.0.0.1:${mosquitto.port}"`);
    closes.push(() => child.remove());
    const random = seeded(SEED);
    const { times, next } = openSeries();
    await child.start("connected to the broker");
    await until("it has subscribed", () => child.log().includes("subscribed"));
    const args = ["-p", String(mosquitto.port), "-q", "1", "-t", TOPIC, "-l"];
    const sensor = spawn("mosquitto_pub", args, { stdio: ["pipe", "ignore", "inherit"] });
    closes.push(() => sensor.kill("SIGKILL"));
    let killing = true;
    const publishing = publishWhile(
      () => killing,
      () => sensor.stdin.write(`${next().payload}\n`),
    );
    for (let kill = 0; kill < KILLS; kill++) {
      await pause(random() * 250);
      await child.kill();
      await child.start("connected to the broker");
    }
    killing = false;
    await publishing;
    sensor.stdin.end();
    await until("all are stored", () => child.stored().length >= times.length, 20_000);
    expectEachOnce(child, times);
    expect(await child.stop()).toBe(0);
  },
  300_000,
);

test("killed 25 times while a sensor publishes to the embedded broker, nothing is lost or twice", async () => {
  const run = await runKills(KILLS, SEED);
  expect(run.kills).toBe(KILLS);
  expect(run.readings).toBeGreaterThan(5_000);
  // Else there was nothing that could be lost.
  expect(run.excursions).toBeGreaterThan(0);
  expect(run.letters).toBeGreaterThan(0);
}, 300_000);
