import { spawn } from "node:child_process";
import mqtt from "mqtt";
import { afterEach, expect, test } from "vitest";
import { freePort, noMosquitto, openMosquitto } from "../daemon/mqtt/mosquitto.js";
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
  180_000,
);

test("killed 25 times while a sensor publishes to the embedded broker, every reading is there once", async () => {
  const port = await freePort();
  const child = openKeptChild(`[broker]\nembedded = "127.0.0.1:${port}"`);
  closes.push(() => child.remove());
  const random = seeded(SEED);
  const { times, next } = openSeries();
  await child.start("listening");
  const sensor = mqtt.connect({
    host: "127.0.0.1",
    port,
    clientId: "sensor",
    clean: false,
    reconnectPeriod: 20,
  });
  closes.push(() => sensor.endAsync(true));
  sensor.on("error", () => {});
  const acknowledged = new Set<number>();
  const deliveries: Promise<void>[] = [];
  // mqtt.js gives up what is published while it resends; a sensor then says it again.
  const deliver = async ({ atMs, payload }: ReturnType<typeof next>): Promise<void> => {
    for (let isDone = false; !isDone && !sensor.disconnecting; ) {
      const sent = sensor.publishAsync(TOPIC, payload, { qos: 1 });
      isDone = await sent.then(() => true).catch(() => false);
      if (isDone) acknowledged.add(atMs);
      else await pause(20);
    }
  };
  let killing = true;
  const publishing = publishWhile(
    () => killing,
    () => deliveries.push(deliver(next())),
  );
  for (let kill = 0; kill < KILLS; kill++) {
    await pause(random() * 250);
    await child.kill();
    const promised = [...acknowledged];
    const stored = new Set(child.stored().map(({ takenAtMs }) => takenAtMs));
    expect(
      promised.filter((atMs) => !stored.has(atMs)),
      "acknowledged, not stored",
    ).toEqual([]);
    await child.start("listening");
  }
  killing = false;
  await publishing;
  await Promise.all(deliveries);
  expectEachOnce(child, times);
  expect(await child.stop()).toBe(0);
}, 180_000);
