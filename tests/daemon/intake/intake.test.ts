import { join } from "node:path";
import { afterEach, expect, test } from "vitest";
import { loadConfig } from "../../../daemon/config.js";
import { makeDigest } from "../../../daemon/digest/make-digest.js";
import { REMEMBER_EVERY_MS } from "../../../daemon/intake/commit-loop.js";
import { PLAIN, writeFiles } from "../config/written-config.js";
import { until } from "../mqtt/until.js";
import { openRig, SITE } from "./rig.js";

const MINUTE_MS = 60_000;
const NOON_MS = Date.UTC(2026, 0, 15, 12);
const SETTLED_MS = 4_000;

const rigs: Array<ReturnType<typeof openRig>> = [];
afterEach(() => {
  for (const rig of rigs.splice(0)) rig.close();
});

function open(...args: Parameters<typeof openRig>) {
  const rig = openRig(...args);
  rigs.push(rig);
  return rig;
}

test("a reading is acknowledged once, when it is stored and not before", async () => {
  const rig = open();
  const message = rig.publish({ t: 2.4 });
  expect([message.acknowledged, rig.stored().length]).toEqual([0, 0]);
  rig.clock.move(60);
  await until("it is acknowledged", () => message.acknowledged > 0);
  expect(rig.stored()).toMatchObject([{ temperatureC: 2.4, takenAtMs: NOON_MS }]);
  rig.intake.flush();
  expect(message.acknowledged).toBe(1);
});

test("a group of 32 is one commit in the next turn; without quiet, nothing sooner", async () => {
  const rig = open();
  const messages = Array.from({ length: 32 }, (_, i) =>
    rig.publish({ t: 2, at: NOON_MS - i * 10_000 }),
  );
  expect(messages.every(({ acknowledged }) => acknowledged === 0)).toBe(true);
  await new Promise((resolve) => setImmediate(resolve));
  expect(messages.every(({ acknowledged }) => acknowledged === 1)).toBe(true);
});

test("what can't be read is acknowledged at once, counted with its reason and logged once", async () => {
  const rig = open();
  const bad = [rig.publish("warm"), rig.publish("warm"), rig.publish("1", "elsewhere")];
  expect(bad.map(({ acknowledged }) => acknowledged)).toEqual([1, 1, 1]);
  rig.clock.move(60);
  await until("it is in the store", () => rig.store.heard.list().length === 2);
  const heard = rig.store.heard.list().map(({ topic, outcome, count }) => [topic, outcome, count]);
  expect(heard).toContainEqual(["quillmere/shed/air", "not-json", 2]);
  expect(heard).toContainEqual(["elsewhere", "unclaimed", 1]);
  expect(rig.log.lines.filter((line) => line.includes("not-json")).length).toBe(1);
});

test("a probe that speaks a thousand times too often is bounded, and said once", () => {
  const rig = open();
  const messages = [];
  for (let i = 0; i < 1_000; i++) {
    messages.push(rig.publish({ t: 2 + (i % 5) }));
    rig.clock.move(60);
  }
  rig.intake.flush();
  expect(messages.every(({ acknowledged }) => acknowledged === 1)).toBe(true);
  expect(rig.stored().length).toBeGreaterThan(50);
  // A minute is six stretches of ten seconds, with ten readings each; it may touch a seventh.
  expect(rig.stored().length).toBeLessThanOrEqual(70);
  expect(rig.log.lines.filter((line) => line.includes("too-often")).length).toBe(1);
});

test("a repeated delivery changes nothing", () => {
  const rig = open();
  const at = NOON_MS - 5_000;
  const messages = [rig.publish({ t: 2.4, at }), rig.publish({ t: 2.4, at })];
  rig.intake.flush();
  expect(messages.map(({ acknowledged }) => acknowledged)).toEqual([1, 1]);
  expect(rig.stored().length).toBe(1);
});

test("while the clock is not set nothing is stamped or acknowledged; once it is, all is dated back", () => {
  const rig = open(Date.UTC(1970, 0, 1, 0, 5));
  const held = rig.publish({ t: 1.5 });
  rig.clock.move(MINUTE_MS);
  const alsoHeld = rig.publish({ t: 1.6 });
  const dated = rig.publish({ t: 1.7, at: NOON_MS - 10 * MINUTE_MS });
  rig.intake.tick();
  rig.intake.flush();
  expect([held, alsoHeld, dated].map(({ acknowledged }) => acknowledged)).toEqual([0, 0, 1]);
  expect(rig.log.lines.join("\n")).toContain("the clock is not set");
  rig.clock.move(2 * MINUTE_MS);
  rig.clock.set(NOON_MS);
  // Not even a fresh reading may reach the judge before those that waited.
  const fresh = rig.publish({ t: 1.8 });
  rig.intake.flush();
  expect([held, alsoHeld, fresh].map(({ acknowledged }) => acknowledged)).toEqual([1, 1, 1]);
  expect(
    rig.stored().map(({ takenAtMs, temperatureC }) => [takenAtMs - NOON_MS, temperatureC]),
  ).toEqual([
    [-10 * MINUTE_MS, 1.7],
    [-3 * MINUTE_MS, 1.5],
    [-2 * MINUTE_MS, 1.6],
    [0, 1.8],
  ]);
});

test("a store that fails delays acknowledgements, is said once, and loses nothing", async () => {
  const rig = open();
  rig.failing.with = new Error("disk full");
  const messages = [rig.publish({ t: 2.1, at: NOON_MS - 20_000 })];
  rig.intake.flush();
  messages.push(rig.publish({ t: 2.2, at: NOON_MS - 10_000 }));
  rig.intake.flush();
  expect(messages.map(({ acknowledged }) => acknowledged)).toEqual([0, 0]);
  rig.failing.with = null;
  await until("it is tried again", () => messages.every(({ acknowledged }) => acknowledged === 1));
  expect(rig.stored().length).toBe(2);
  expect(rig.log.lines.filter((line) => line.includes("can't be written")).length).toBe(1);
  expect(rig.log.lines.join("\n")).toContain("can be written again");
});

test("a store that fails for long fills no memory; senders are asked again for what had no room", async () => {
  const rig = open();
  rig.failing.with = new Error("disk full");
  rig.intake.flush();
  const base = NOON_MS - 60_000 * 10_000;
  for (let i = 0; i < 50_000; i++) rig.publish({ t: 2, at: base + i * 10_000 });
  const tooMuch = rig.publish({ t: 2, at: NOON_MS });
  rig.failing.with = null;
  await until("it is stored", () => rig.stored().length === 50_000, 20_000);
  expect([tooMuch.acknowledged, rig.woken.room]).toEqual([0, 1]);
});

type Rig = ReturnType<typeof openRig>;
type Sent = { t: number; at: number; message: { acknowledged: number } };

/** One reading a minute of a fridge that fails after an hour, from a sensor that keeps the rest. */
function warming(rig: Rig, minutes: number, fromMinute = 0, sent: Sent[] = []): void {
  for (let minute = fromMinute; minute < fromMinute + minutes; minute++) {
    const t = minute < 60 ? 2.2 : Math.min(18, 2.2 + (minute - 60) * 0.1);
    const at = rig.clock.nowMs();
    sent.push({ t, at, message: rig.publish({ t, at }) });
    rig.clock.move(MINUTE_MS);
  }
}

const excursionsOf = (rig: Rig) =>
  rig.store.excursions
    .between(0, Number.MAX_SAFE_INTEGER)
    .map(({ id, cause, urgency }) => ({ id, cause, urgency }));
const lettersOf = (rig: Rig) =>
  rig.store.letters.between(0, Number.MAX_SAFE_INTEGER).map(({ letter }) => letter.id);

test("what is urgent is stored with its letter at once, and the outbox is woken", () => {
  const rig = open();
  rig.clock.move(SETTLED_MS);
  warming(rig, 300);
  expect(lettersOf(rig).length).toBeGreaterThan(0);
  expect(rig.woken.letters).toBeGreaterThan(0);
  const letters = rig.store.letters.between(0, Number.MAX_SAFE_INTEGER);
  expect(letters[0]!.deliveries.map(({ keeper }) => keeper)).toEqual(["keeper@example.org"]);
});

test("power cuts change neither excursions nor letters", () => {
  const whole = open();
  whole.clock.move(SETTLED_MS);
  warming(whole, 300);
  whole.intake.flush();
  expect(lettersOf(whole).length).toBeGreaterThan(0);
  for (const cutEvery of [7, 50, 110]) {
    const cut = open();
    cut.clock.move(SETTLED_MS);
    let sent: Sent[] = [];
    for (let minute = 0; minute < 300; minute += cutEvery) {
      warming(cut, Math.floor(cutEvery / 2), minute, sent);
      if (minute % 3 === 0) cut.intake.flush();
      warming(cut, Math.ceil(cutEvery / 2), minute + Math.floor(cutEvery / 2), sent);
      cut.restart();
      sent = sent.filter(({ message }) => message.acknowledged === 0);
      for (const one of sent) one.message = cut.publish({ t: one.t, at: one.at });
    }
    cut.clock.move(SETTLED_MS);
    cut.intake.tick();
    cut.intake.flush();
    expect(excursionsOf(cut), `cut each ${cutEvery} min`).toEqual(excursionsOf(whole));
    expect(lettersOf(cut), `cut each ${cutEvery} min`).toEqual(lettersOf(whole));
  }
});

test("the judge is told the time, but not while a night's readings pour in", () => {
  const rig = open();
  rig.clock.move(SETTLED_MS);
  warming(rig, 50);
  rig.intake.flush();
  // Nine hours away; the sensor kept all it measured.
  const awayMs = rig.clock.nowMs();
  rig.clock.move(9 * 60 * MINUTE_MS);
  rig.intake.connected();
  for (let minute = 0; minute < 9 * 60; minute++) {
    rig.publish({ t: 2.2 + (minute % 3) / 10, at: awayMs + minute * MINUTE_MS });
    rig.intake.tick();
  }
  rig.clock.move(SETTLED_MS);
  rig.intake.tick();
  rig.intake.flush();
  expect(excursionsOf(rig)).toEqual([]);
  // And then nothing more: now it is mute.
  for (let minute = 0; minute < 20; minute++) {
    rig.clock.move(MINUTE_MS);
    rig.intake.tick();
  }
  expect(excursionsOf(rig).map(({ cause }) => cause)).toEqual(["probe-mute"]);
});

const rememberedDampings = (rig: ReturnType<typeof openRig>) =>
  JSON.parse(rig.store.judge.load()!.state).chambers[0].tended.damped as number[];

const damped = (atMs: number, corrects: number | null = null) => ({
  lots: [],
  entries: [
    { atMs, chamberId: "shed", lotId: null, act: { kind: "damped" }, words: "", corrects } as const,
  ],
});

/** Let the judge's memory fall due, so that what it knows is stored. */
function letRemember(rig: ReturnType<typeof openRig>) {
  rig.clock.move(SETTLED_MS);
  rig.intake.tick();
  rig.clock.move(REMEMBER_EVERY_MS);
  rig.publish({ t: 2.4 });
  rig.intake.flush();
}

test("what another process writes in the journal reaches the judge at the next tick", () => {
  const rig = open();
  const yesterdayMs = NOON_MS - 24 * 60 * MINUTE_MS;
  rig.store.journal.write(NOON_MS, () => damped(yesterdayMs));
  letRemember(rig);
  expect(rememberedDampings(rig)).toEqual([yesterdayMs]);
  rig.store.journal.write(NOON_MS, () => damped(NOON_MS, 1));
  letRemember(rig);
  expect(rememberedDampings(rig)).toEqual([NOON_MS]);
});

test("what was written while Drowse was away is known before the first reading is judged", () => {
  const rig = open();
  letRemember(rig);
  rig.store.journal.write(NOON_MS, () => damped(NOON_MS));
  rig.restart();
  rig.clock.move(REMEMBER_EVERY_MS);
  rig.publish({ t: 2.4 });
  rig.intake.flush();
  expect(rememberedDampings(rig)).toEqual([NOON_MS]);
});

test("a silent probe taken out of the config is silent no more, and the digest says why", () => {
  const rig = open();
  rig.publish({ t: 2.4 });
  rig.intake.flush();
  for (let minute = 0; minute < 20; minute++) {
    rig.clock.move(MINUTE_MS);
    rig.intake.tick();
  }
  expect(rig.store.excursions.open()).toMatchObject([{ cause: "probe-mute" }]);
  const told = rig.store.letters.between(0, Number.MAX_SAFE_INTEGER).length;
  expect(told).toBe(1);
  const other = { ...SITE, probes: [{ ...SITE.probes[0]!, id: "loft-air" }] };
  rig.restart(other);
  rig.intake.flush();
  expect(rig.store.excursions.open()).toEqual([]);
  expect(rig.store.letters.between(0, Number.MAX_SAFE_INTEGER)).toHaveLength(told);
  const nowMs = rig.clock.nowMs();
  const span = { fromMs: nowMs - 7 * 86_400_000, toMs: nowMs };
  const context = { site: other, temperatureUnit: "C", earlier: [], trouble: null } as const;
  const folder = writeFiles({ "drowse.toml": PLAIN });
  const config = loadConfig(join(folder, "drowse.toml"));
  const { letter } = makeDigest(rig.store, span, nowMs, context, { ...config, site: other });
  expect(letter.text.replace(/\s+/g, " ")).toContain("it has gone from the config");
});

/** A fridge as it was before, then 9 K warmer for an hour and a half, then as before. */
const nightOf = (minute: number) =>
  2.2 + (minute % 3) / 10 + (minute >= 200 && minute < 290 ? 9 : 0);
const NIGHT_MINUTES = 420;

function publishNight(rig: Rig, fromMs: number, fromMinute: number, toMinute: number): void {
  for (let minute = fromMinute; minute < toMinute; minute++) {
    const at = fromMs + minute * MINUTE_MS;
    rig.publish({ t: nightOf(minute), at });
  }
}

function settle(rig: Rig): void {
  rig.clock.move(SETTLED_MS);
  rig.intake.tick();
  rig.clock.move(SETTLED_MS);
  rig.intake.tick();
  rig.intake.flush();
}

/** The same night heard as it went. */
function heardLive(): Rig {
  const rig = open();
  const fromMs = rig.clock.nowMs();
  for (let minute = 0; minute < NIGHT_MINUTES; minute++) {
    publishNight(rig, fromMs, minute, minute + 1);
    rig.clock.move(MINUTE_MS);
    rig.intake.tick();
  }
  settle(rig);
  return rig;
}

const historiesOf = (rig: Rig) =>
  excursionsOf(rig)
    .filter(({ cause }) => cause !== "probe-mute")
    .map(({ id }) => [
      id,
      rig.store.excursions.history(id).map((f) => [f.atMs, f.change, f.cause]),
    ]);

test("a night that a sensor hands over long after a start is judged as it was", () => {
  const live = heardLive();
  expect(historiesOf(live).length).toBeGreaterThan(0);
  const rig = open();
  const fromMs = rig.clock.nowMs();
  for (let minute = 0; minute < 60; minute++) {
    publishNight(rig, fromMs, minute, minute + 1);
    rig.clock.move(MINUTE_MS);
    rig.intake.tick();
  }
  rig.intake.flush();
  rig.clock.move((NIGHT_MINUTES - 60) * MINUTE_MS);
  rig.restart();
  // It finds its way back only after the judge has been told the time.
  for (let seconds = 0; seconds < 30; seconds += 5) {
    rig.clock.move(5_000);
    rig.intake.tick();
  }
  publishNight(rig, fromMs, 60, 150);
  // It falters on the way for longer than what was kept back is waited for.
  settle(rig);
  publishNight(rig, fromMs, 150, NIGHT_MINUTES);
  settle(rig);
  expect(excursionsOf(rig).map(({ cause }) => cause)).not.toContain("probe-mute");
  expect(historiesOf(rig)).toEqual(historiesOf(live));
  expect(lettersOf(rig)).toEqual(lettersOf(live));
});

test("what a sensor kept back while its radio was away is judged as it was, and its silence ends", () => {
  const live = heardLive();
  const rig = open();
  const fromMs = rig.clock.nowMs();
  for (let minute = 0; minute < NIGHT_MINUTES; minute++) {
    if (minute < 150) publishNight(rig, fromMs, minute, minute + 1);
    rig.clock.move(MINUTE_MS);
    rig.intake.tick();
  }
  expect(excursionsOf(rig).map(({ cause }) => cause)).toContain("probe-mute");
  publishNight(rig, fromMs, 150, NIGHT_MINUTES);
  settle(rig);
  expect(historiesOf(rig)).toEqual(historiesOf(live));
  expect(rig.store.excursions.open()).toEqual([]);
  const mute = excursionsOf(rig).find(({ cause }) => cause === "probe-mute")!;
  const [opened, ended] = rig.store.excursions.history(mute.id);
  expect([opened!.change, ended!.change]).toEqual(["opened", "ended"]);
  expect(ended!.atMs).toBeGreaterThanOrEqual(fromMs + NIGHT_MINUTES * MINUTE_MS);
});
