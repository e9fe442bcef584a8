import { join } from "node:path";
import mqtt from "mqtt";
import { afterEach, expect, test } from "vitest";
import { loadConfig } from "../../daemon/config.js";
import { startKeep } from "../../daemon/keep.js";
import { openStore } from "../../daemon/store/store.js";
import { MINUTE_MS } from "../../shared/time.js";
import { writeFiles } from "../daemon/config/written-config.js";
import { openMemoryLog } from "../daemon/mqtt/desk.js";

const GOOD = ["shed-air", "shed-box", "shed-wall", "loft-air", "loft-box"] as const;
const MINUTES = 120;
const WARM_FROM = 30;
const STEP_MINUTES = 2;
/** A flood, by the machine's clock. */
const MESSAGES_PER_S = 1_000;

const closes: Array<() => unknown> = [];
afterEach(async () => {
  for (const close of closes.splice(0).reverse()) await close();
});

const probe = (id: string) => {
  const [chamber, place] = id.split("-");
  return `[[probe]]
id = "${id}"
chamber = "${chamber}"
place = "${place === "wild" ? "air" : place}"
topic = "quillmere/${id}"
payload = "json"
temperature = "/t"
time = "/at"
`;
};

const CONFIG = `[site]
name = "Quillmere shed"
timezone = "Europe/London"
keepers = ["keeper@quillmere.example"]
[broker]
embedded = "127.0.0.1:0"
[[chamber]]
id = "shed"
[[chamber]]
id = "loft"
[[chamber]]
id = "yard"
${[...GOOD, "yard-wild"].map(probe).join("\n")}`;

/** Live through a loft that grows too warm, beside a flood or none. */
async function live(isFlooded: boolean) {
  const folder = writeFiles({ "drowse.toml": CONFIG });
  const config = loadConfig(join(folder, "drowse.toml"));
  let aheadMs = 0;
  const clock = {
    nowMs: () => Date.now() + aheadMs,
    monotonicMs: () => performance.now() + aheadMs,
  };
  const keeping = await startKeep(config, { clock, log: openMemoryLog() });
  closes.push(() => keeping.close());
  const connection = { host: "127.0.0.1", port: keeping.port! };
  const [good, wild] = await Promise.all([
    mqtt.connectAsync(connection),
    mqtt.connectAsync(connection),
  ]);
  closes.push(() => Promise.all([good.endAsync(true), wild.endAsync(true)]));
  let floodCount = 0;
  const beganMs = performance.now();
  const flood = setInterval(() => {
    const dueCount = isFlooded ? ((performance.now() - beganMs) / 1_000) * MESSAGES_PER_S : 0;
    for (; floodCount < dueCount; floodCount++)
      wild.publish("quillmere/yard-wild", JSON.stringify({ t: 2.4, at: clock.nowMs() }));
  }, 20);
  closes.push(() => clearInterval(flood));
  const startMs = Math.ceil(clock.nowMs() / MINUTE_MS) * MINUTE_MS;
  for (let minute = 0; minute < MINUTES; minute += STEP_MINUTES) {
    const at = startMs + minute * MINUTE_MS;
    aheadMs = Math.max(aheadMs, at - Date.now());
    const warm = minute >= WARM_FROM ? 9 : 2.4;
    const said = GOOD.map((id) => {
      const payload = JSON.stringify({ t: id.startsWith("loft") ? warm : 2.4, at });
      return good.publishAsync(`quillmere/${id}`, payload, { qos: 1 });
    });
    await Promise.all(said);
  }
  clearInterval(flood);
  const perSecond = (floodCount * 1_000) / (performance.now() - beganMs);
  const store = openStore(config.store.folder, config.site, { mode: "look" });
  try {
    const excursions = store.excursions.between(0, Number.MAX_SAFE_INTEGER);
    const findings = excursions
      .filter(({ chamberId }) => chamberId !== "yard")
      .flatMap(({ id }) => store.excursions.history(id));
    const storedOf = (id: string) => [...store.readings.between(id, 0, Infinity)].length;
    const tooOften = store.heard.list().filter(({ outcome }) => outcome === "too-often");
    return {
      story: findings.map((f) => `${f.chamberId} ${f.change} ${f.cause} ${f.urgency}`),
      toldMs: findings.map(({ atMs }) => atMs - startMs),
      // By this hasty clock the wild one falls silent between two of its bursts.
      letters: store.letters
        .between(0, Number.MAX_SAFE_INTEGER)
        .map(({ letter }) => letter.subject)
        .filter((subject) => !subject.includes("yard")),
      stored: GOOD.map(storedOf),
      storedOfWild: storedOf("yard-wild"),
      floodCount,
      perSecond,
      tooOften,
    };
  } finally {
    store.close();
  }
}

test("beside a sensor that floods at 1,000 messages a second, five good ones are judged as ever", async () => {
  const calm = await live(false);
  const flooded = await live(true);
  expect(calm.story.length).toBeGreaterThan(0);
  expect(calm.letters.length).toBeGreaterThan(0);
  expect(flooded.story).toEqual(calm.story);
  expect(flooded.letters).toEqual(calm.letters);
  expect(flooded.stored).toEqual(GOOD.map(() => MINUTES / STEP_MINUTES));
  // A tick may end a moment of 20 s sooner than the next reading does, which comes two minutes on.
  for (const [index, toldMs] of flooded.toldMs.entries())
    expect(Math.abs(toldMs - calm.toldMs[index]!)).toBeLessThanOrEqual(STEP_MINUTES * MINUTE_MS);
  expect(flooded.perSecond).toBeGreaterThan(0.9 * MESSAGES_PER_S);
  // Ten in each ten seconds of a clock that jumps by two minutes.
  expect(flooded.storedOfWild).toBeLessThan(flooded.floodCount / 4);
  expect(flooded.tooOften.map(({ probeId }) => probeId)).toEqual(["yard-wild"]);
}, 180_000);
