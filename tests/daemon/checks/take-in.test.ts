import { describe, expect, test, vi } from "vitest";
import { takeInChecks } from "../../../daemon/checks/take-in.js";
import type { Store } from "../../../daemon/store/store.js";
import { seasonOf } from "../../../rules/season.js";
import type { Happening } from "../../../sensors/simulated/script.js";
import type { Reading } from "../../../shared/reading.js";
import { DAY_MS, HOUR_MS } from "../../../shared/time.js";
import { asReading, type Course, dayMs, judge, liveCourse } from "../../rules/quillmere.js";
import { openedStore, temporaryFolder } from "../store/temporary-store.js";
import { contextFor, KEEPERS, keepCourse, takeIn } from "./kept-course.js";
import { madeCheck } from "./made-checks.js";

// A month is judged anew several times, which a busy board takes its time for.
vi.setConfig({ testTimeout: 120_000 });

/** A month in which the box probe shows `offK` too much from the tenth day on. */
function wrongMonth(offK: number, probeId: string, script: readonly Happening[] = []) {
  const course = liveCourse({ days: 30, seed: 4, script });
  const readings = course.readings.map(
    (reading): Reading =>
      reading.probeId === probeId && reading.takenAtMs >= dayMs(10)
        ? { ...reading, temperatureC: Math.round((reading.temperatureC! + offK) * 10) / 10 }
        : reading,
  );
  return { course, readings };
}

const toldIn = (store: Store, course: Course) =>
  store.excursions
    .between(0, course.endMs)
    .filter(({ urgency }) => urgency !== "note")
    .map(({ cause, startedAtMs }) => `${cause} ${new Date(startedAtMs).toISOString()}`);

/** What a judge tells of the readings as they should have been. */
function toldOfTruth({ site, readings }: Course): string[] {
  const { findings } = judge(readings.map(asReading), site);
  return findings
    .filter(({ urgency, change }) => urgency !== "note" && change === "opened")
    .map(({ cause, startedAtMs }) => `${cause} ${new Date(startedAtMs).toISOString()}`);
}

describe("a box probe that showed 2.5 °C too much for twenty days", () => {
  const { course, readings } = wrongMonth(2.5, "shed-box", [
    { kind: "door", share: 0.9, startMs: dayMs(20), endMs: dayMs(20) + 3 * HOUR_MS },
  ]);

  test("is put right back to its tenth day, and the month is judged as it was", async () => {
    const store = openedStore(temporaryFolder());
    const seat = keepCourse(store, course.site, readings);
    const before = toldIn(store, course);
    expect(before.some((told) => told.startsWith("warm "))).toBe(true);
    const madeAtMs = course.endMs;
    const holdsFromMs = dayMs(10);
    store.checks.add(madeCheck(2.5, { id: "one", probeId: "shed-box", madeAtMs, holdsFromMs }));
    expect(await takeIn(store, course.site, seat, course.endMs)).toBe(true);

    expect(toldIn(store, course)).toEqual(toldOfTruth(course));
    expect(toldIn(store, course)).not.toEqual(before);
    const truth = seasonOf(
      judge(course.readings.map(asReading), course.site).state,
      course.site,
    )[0]!;
    const [is] = seasonOf(seat.state, course.site);
    // Readings are stored in whole thousandths, and judged anew from those.
    expect(is!.degreeHoursAbove).toBeCloseTo(truth.degreeHoursAbove, 6);
    expect(is!.cocoonSpanC!.high).toBeCloseTo(truth.cocoonSpanC!.high, 6);
    const cocoons = store.rollups.days("cocoons shed", dayMs(11), dayMs(30));
    expect(Math.max(...cocoons.map((day) => day.temperature!.meanC))).toBeLessThan(3.5);
    expect([...store.readings.between("shed-box", 0, Infinity)]).toEqual(
      readings.filter(({ probeId }) => probeId === "shed-box"),
    );
  });

  test("has one letter tell what changed", async () => {
    const store = openedStore(temporaryFolder());
    const seat = keepCourse(store, course.site, readings);
    const madeAtMs = course.endMs;
    const holdsFromMs = dayMs(10);
    store.checks.add(madeCheck(2.5, { id: "one", probeId: "shed-box", madeAtMs, holdsFromMs }));
    await takeIn(store, course.site, seat, course.endMs);
    const letters = store.letters
      .between(course.endMs, course.endMs + 1)
      .filter(({ letter }) => letter.id.startsWith("check/"));
    expect(letters).toHaveLength(1);
    const { text } = letters[0]!.letter;
    expect(text).toContain("By the check of shed-box of 1 December 2025");
    expect(text).toContain("2.50 °C taken off");
    expect(text).toContain("judged from 11 November 2025 on was judged anew");
    expect(text).toMatch(/Warmest cocoons +[\d.]+ °C \(was [\d.]+ °C\)/);
    expect(text).toContain("Events that were told and were none");
    expect(text).toContain("Too warm, from ");
  });

  test("and withdrawing that check brings back what was judged before", async () => {
    const store = openedStore(temporaryFolder());
    const seat = keepCourse(store, course.site, readings);
    const before = toldIn(store, course);
    const madeAtMs = course.endMs;
    store.checks.add(
      madeCheck(2.5, { id: "one", probeId: "shed-box", madeAtMs, holdsFromMs: dayMs(10) }),
    );
    await takeIn(store, course.site, seat, course.endMs);
    const withdrawal = { kind: "withdrawal", checkId: "one", by: null, note: null } as const;
    store.checks.add({ ...withdrawal, id: "two", madeAtMs: madeAtMs + 1 });
    await takeIn(store, course.site, seat, course.endMs);
    expect(toldIn(store, course)).toEqual(before);
    expect(store.checks.corrector().inForce("shed-box", "temperature", madeAtMs)).toBeNull();
  });
});

test("an air probe corrected by a degree and a half from now on is no event in the fridge", async () => {
  const course = liveCourse({ days: 20, seed: 2 });
  const store = openedStore(temporaryFolder());
  const until = dayMs(15);
  const seat = keepCourse(
    store,
    course.site,
    course.readings.filter(({ takenAtMs }) => takenAtMs < until),
  );
  const before = toldIn(store, course);
  store.checks.add(madeCheck(-1.5, { madeAtMs: until, holdsFromMs: until }));
  expect(await takeIn(store, course.site, seat, until)).toBe(true);
  const later = course.readings.filter(({ takenAtMs }) => takenAtMs >= until);
  const findings = later.flatMap((reading) => seat.hear(reading));
  const isOfAir = ({ cause }: { cause: string }) => /door|cooling|over-cooling/.test(cause);
  expect(findings.filter((f) => f.urgency !== "note" && isOfAir(f))).toEqual([]);
  expect(toldIn(store, course)).toEqual(before);
});

test("what comes in while a chamber is judged anew is in it", async () => {
  const { course, readings } = wrongMonth(2.5, "shed-box");
  const store = openedStore(temporaryFolder());
  const split = readings.findIndex(({ takenAtMs }) => takenAtMs >= dayMs(29));
  const seat = keepCourse(store, course.site, readings.slice(0, split));
  const rest = readings.slice(split);
  const [madeAtMs, holdsFromMs] = [dayMs(29), dayMs(10)];
  store.checks.add(madeCheck(2.5, { id: "one", probeId: "shed-box", madeAtMs, holdsFromMs }));
  let turns = 0;
  const done = await takeInChecks({
    site: course.site,
    store,
    keepers: KEEPERS,
    nowMs: () => dayMs(29),
    settledSeat: () => seat,
    context: (earlier) => contextFor(course.site, earlier),
    compose: () => null,
    pause: async () => {
      if (turns++ > 0) return;
      const findings = rest.flatMap((reading) => seat.hear(reading));
      store.commit({ readings: rest, findings, letters: [], judge: null, heard: [] }, KEEPERS);
    },
  });
  expect(done).toBe(true);
  const truth = seasonOf(judge(course.readings.map(asReading), course.site).state, course.site)[0]!;
  const [is] = seasonOf(seat.state, course.site);
  expect(is!.seenHours).toBeCloseTo(truth.seenHours, 9);
  expect(is!.degreeHoursAbove).toBeCloseTo(truth.degreeHoursAbove, 6);
});

test("where the judge cannot be interrupted, or another check came meanwhile, it is tried later", async () => {
  const course = liveCourse({ days: 2, seed: 1 });
  const store = openedStore(temporaryFolder());
  const seat = keepCourse(store, course.site, course.readings);
  store.checks.add(madeCheck(1, { id: "one", holdsFromMs: dayMs(0) }));
  const ports = {
    site: course.site,
    store,
    keepers: KEEPERS,
    nowMs: () => course.endMs,
    context: () => contextFor(course.site),
    compose: () => null,
    pause: async () => {},
  };
  expect(await takeInChecks({ ...ports, settledSeat: () => null })).toBe(false);
  const another = async () => store.checks.add(madeCheck(1.1, { id: "two", holdsFromMs: DAY_MS }));
  expect(await takeInChecks({ ...ports, settledSeat: () => seat, pause: another })).toBe(false);
  expect(store.checks.takenNo()).toBe(0);
  expect(await takeInChecks({ ...ports, settledSeat: () => seat })).toBe(true);
  expect(store.checks.takenNo()).toBe(2);
});
