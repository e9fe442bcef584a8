import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import mqtt from "mqtt";
import { beforeAll, describe, expect, test } from "vitest";
import { loadConfig } from "../../daemon/config.js";
import { makeDigest } from "../../daemon/digest/make-digest.js";
import { startKeep } from "../../daemon/keep.js";
import { openStore, type Store } from "../../daemon/store/store.js";
import { draw, seeded } from "../../sensors/simulated/seeded.js";
import type { Finding } from "../../shared/excursion.js";
import { cocoonSeriesId } from "../../shared/site.js";
import { DAY_MS, HOUR_MS, MINUTE_MS } from "../../shared/time.js";
import { openMemoryLog } from "../daemon/mqtt/desk.js";
import { dayMs, liveCourse } from "../rules/quillmere.js";

const DAYS = 18;
const INTERVAL_MS = 15 * MINUTE_MS;
/** One value after power-on; a lead that fails each half hour; a probe that hangs. */
const POWER_ON_MS = dayMs(10) + 9 * HOUR_MS;
const BUS_LOST_MS = dayMs(12) + 9 * HOUR_MS;
const STUCK_MS = dayMs(17);
const PARTS_K_PER_DAY = 0.12;

const probe = (id: string, place: string) => `[[probe]]
id = "${id}"
chamber = "${id.split("-")[0]}"
place = "${place}"
topic = "quillmere/${id}"
payload = "json"
temperature = "/t"
time = "/at"
interval_s = 900
`;

const CONFIG = `[site]
name = "Quillmere shed"
timezone = "Europe/London"
keepers = ["keeper@quillmere.example"]
[broker]
embedded = "127.0.0.1:0"
[store]
group_readings = 1
[[chamber]]
id = "shed"
[[chamber]]
id = "loft"
${probe("shed-air", "air")}
${probe("shed-box", "box")}
${probe("loft-one", "air")}
${probe("loft-two", "air")}`;

type Message = Readonly<{ id: string; at: number; t: number }>;

/** What the four probes say, in order of time; without the values that no probe can measure. */
function soundMessages(): Message[] {
  const random = seeded(11, "loft");
  const shed = liveCourse({ days: DAYS, seed: 5, intervalMs: INTERVAL_MS, humidity: false });
  const loft = liveCourse({ days: DAYS, seed: 8, intervalMs: INTERVAL_MS, humidity: false });
  const one = loft.readings.filter(({ probeId }) => probeId === "shed-air");
  const hung = one.findLast(({ takenAtMs }) => takenAtMs < STUCK_MS)!.temperatureC!;
  const messages: Message[] = [
    ...shed.readings.map((r) => ({ id: r.probeId, at: r.takenAtMs, t: r.temperatureC! })),
    ...one.flatMap(({ takenAtMs: at, temperatureC }): Message[] => {
      const day = (at - dayMs(0)) / DAY_MS;
      const other = temperatureC! + 0.4 + PARTS_K_PER_DAY * day + 0.1 * draw(random);
      return [
        { id: "loft-one", at, t: at < STUCK_MS ? temperatureC! : hung },
        { id: "loft-two", at, t: Math.round(other * 10) / 10 },
      ];
    }),
  ];
  return messages.sort((a, b) => a.at - b.at);
}

/** Whether the probe in the shed's air says something impossible then, and what. */
function faultAt({ id, at }: Message): number | null {
  if (id !== "shed-air") return null;
  if (at >= POWER_ON_MS && at < POWER_ON_MS + INTERVAL_MS) return 85;
  const slot = Math.floor((at - BUS_LOST_MS) / INTERVAL_MS);
  return slot >= 0 && slot < 12 && slot % 2 === 0 ? -127 : null;
}

/** Messages that are sent within a minute of each other, in order. */
function slotsOf(messages: readonly Message[]): Message[][] {
  const slots: Message[][] = [];
  for (const message of messages) {
    const last = slots.at(-1);
    if (last !== undefined && message.at - last[0]!.at < MINUTE_MS) last.push(message);
    else slots.push([message]);
  }
  return slots;
}

/** Drowse by a clock that goes from message to message, on a broker and a store of its own. */
async function live(messages: readonly Message[]) {
  const folder = mkdtempSync(join(tmpdir(), "drowse-bad-probes-"));
  writeFileSync(join(folder, "drowse.toml"), CONFIG);
  const config = loadConfig(join(folder, "drowse.toml"));
  let nowMs = dayMs(0);
  const clock = { nowMs: () => nowMs, monotonicMs: () => performance.now() + nowMs - dayMs(0) };
  const keeping = await startKeep(config, { clock, log: openMemoryLog() });
  const sensor = await mqtt.connectAsync({ host: "127.0.0.1", port: keeping.port! });
  for (const slot of slotsOf(messages)) {
    nowMs = Math.max(nowMs, slot.at(-1)!.at);
    const sent = slot.map(({ id, at, t }) =>
      sensor.publishAsync(`quillmere/${id}`, JSON.stringify({ t, at }), { qos: 1 }),
    );
    await Promise.all(sent);
  }
  nowMs += MINUTE_MS;
  await sensor.endAsync();
  await keeping.close();
  const store = openStore(config.store.folder, config.site, { mode: "look" });
  const close = () => {
    store.close();
    rmSync(folder, { recursive: true, force: true });
  };
  return { config, store, close };
}

const findingsIn = (store: Store): Finding[] =>
  store.excursions.between(0, Infinity).flatMap(({ id }) => [...store.excursions.history(id)]);

const told = (store: Store, cause: RegExp) =>
  findingsIn(store).filter((finding) => cause.test(finding.cause));

describe("probes that go bad in a good winter", () => {
  let bad: Awaited<ReturnType<typeof live>>;
  let sound: Awaited<ReturnType<typeof live>>;

  const messages = soundMessages();

  beforeAll(async () => {
    sound = await live(messages.filter((message) => faultAt(message) === null));
    bad = await live(messages.map((message) => ({ ...message, t: faultAt(message) ?? message.t })));
    return () => {
      sound.close();
      bad.close();
    };
  }, 240_000);

  test("85 and −127 °C move no excursion and no cocoon temperature, and stay in the store", () => {
    const story = ({ store }: typeof bad) =>
      told(store, /^(?!probe-wild)/).map(
        ({ atMs, cause, change, excursionId }) => `${atMs} ${change} ${cause} ${excursionId}`,
      );
    expect(story(bad)).toEqual(story(sound));
    const series = ({ store }: typeof bad) => [
      ...store.readings.between(cocoonSeriesId("shed"), 0, Infinity),
    ];
    expect(series(bad).length).toBeGreaterThan(DAYS * 90);
    expect(series(bad)).toEqual(series(sound));
    const raw = [...bad.store.readings.between("shed-air", 0, Infinity)];
    for (const value of [85, -127]) {
      const sent = messages.filter((message) => faultAt(message) === value).length;
      expect(sent).toBeGreaterThan(0);
      expect(raw.filter(({ temperatureC }) => temperatureC === value)).toHaveLength(sent);
    }
    for (const { temperature } of bad.store.rollups.hours("shed-air", 0, Infinity)) {
      expect(temperature!.highC).toBeLessThan(12);
      expect(temperature!.lowC).toBeGreaterThan(-3);
    }
  });

  test("the lead that keeps failing has its letter, which names what the value means", () => {
    const letters = bad.store.letters
      .between(0, Infinity)
      .map(({ letter }) => letter)
      .filter(({ subject }) => /wild probe/.test(subject));
    expect(letters.map(({ subject }) => subject)).toEqual([
      "Look at the wild probe: shed-air in shed",
    ]);
    // −127: what common drivers give where no device answers; common practice, no source.
    expect(letters[0]!.text.replace(/\s+/g, " ")).toContain(
      "It said −127.0 °C, which drivers of a DS18B20 give when nothing answers on its bus.",
    );
  });

  test("the single value after power-on is a line of the digest, and no letter", () => {
    const { store, config } = bad;
    // Maxim, DS18B20 datasheet: the power-on reset value of the temperature register is +85 °C.
    const wild = told(store, /^probe-wild$/).filter(({ atMs }) => atMs < BUS_LOST_MS);
    expect(wild.map(({ change, urgency }) => `${change} ${urgency}`)).toEqual([
      "opened note",
      "ended note",
    ]);
    const span = { fromMs: dayMs(7), toMs: dayMs(14) };
    const context = {
      site: config.site,
      temperatureUnit: "C",
      earlier: [],
      trouble: null,
    } as const;
    const { letter } = makeDigest(store, span, dayMs(14), context, config);
    expect(letter.text.replace(/\s+/g, " ")).toMatch(
      /shed-air: probe wild from 09:\d\d on \w+ 11 November, for .*: 85\.0 °C, which a DS18B20 holds after power-on/,
    );
  });

  test("two probes that part are told, by how much and in how long", () => {
    const [first] = told(bad.store, /^probe-drift$/);
    expect(first).toMatchObject({ change: "opened", probeId: "loft-two", chamberId: "loft" });
    const [, low, high, days] = /parted by ([\d.]+) to ([\d.]+) K in (\d+) days/
      .exec(first!.comparedWith)!
      .map(Number);
    // The span is told in tenths, so that its ends may be off by half of one.
    expect(low! - 0.05).toBeLessThanOrEqual(PARTS_K_PER_DAY * days!);
    expect(high! + 0.05).toBeGreaterThanOrEqual(PARTS_K_PER_DAY * days!);
    expect(low!).toBeGreaterThanOrEqual(0.5);
  });

  test("a probe that hangs is told within four hours", () => {
    const [first] = told(bad.store, /^probe-stuck$/);
    expect(first).toMatchObject({ change: "opened", probeId: "loft-one", urgency: "visit" });
    expect((first!.atMs - STUCK_MS) / HOUR_MS).toBeLessThan(4);
  });
});
