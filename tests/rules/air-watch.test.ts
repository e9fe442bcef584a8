import { beforeAll, describe, expect, test } from "vitest";
import { type AirWatch, beginAirWatch, stepAirWatch } from "../../rules/air-watch.js";
import { saturationPressureHpa } from "../../rules/humid-air.js";
import type { Happening } from "../../sensors/simulated/script.js";
import { drawNormal, type Seeded, seeded } from "../../sensors/simulated/seeded.js";
import type { Finding } from "../../shared/excursion.js";
import { HOUR_MS, MINUTE_MS } from "../../shared/time.js";
import {
  type Asked,
  asReading,
  dayMs,
  judge,
  judgeCourse,
  lettersOf,
  liveCourse,
  START_MS,
  siteOf,
} from "./quillmere.js";

const judged = (asked: Asked): readonly Finding[] => judgeCourse(liveCourse(asked)).findings;

/** Left open at these times for half an hour each; three days are enough to know a fridge. */
const doors = (share: number): Happening[] =>
  [3.37, 4.54, 5.62, 6.81].map((day) => ({
    kind: "door",
    share,
    startMs: dayMs(day),
    endMs: dayMs(day) + 30 * MINUTE_MS,
  }));

/** What was told first of each happening, from its start until half an hour after its end. */
const firstOf = (findings: readonly Finding[], happenings: readonly Happening[]) =>
  happenings.map(({ startMs, endMs }) => {
    const told = lettersOf(findings).find(
      (f) => f.change !== "ended" && f.atMs >= startMs && f.atMs <= endMs + 30 * MINUTE_MS,
    );
    return told === undefined
      ? null
      : { cause: told.cause, urgency: told.urgency, afterMin: (told.atMs - startMs) / MINUTE_MS };
  });

describe("a door left wide open", () => {
  test.each<[string, Partial<Asked>, number]>([
    ["each minute with humidity", {}, 8],
    ["each five minutes", { intervalMs: 5 * MINUTE_MS }, 12],
    ["each minute without humidity", { humidity: false }, 15],
  ])(
    "is told as a door ajar, with a rush, in time by a probe read %s",
    (_name, outfit, latestMin) => {
      const script = doors(1);
      const told = firstOf(judged({ days: 7, seed: 3, script, ...outfit }), script);
      // One in four may come in the midst of a defrost, and is told later or by its warmth alone.
      const named = told.filter((first) => first?.cause === "door-ajar");
      expect(named.length).toBeGreaterThanOrEqual(3);
      expect(named.map((first) => first!.urgency)).toEqual(named.map(() => "rush"));
      const inTime = named.filter((first) => first!.afterMin <= latestMin);
      expect(inTime.length).toBeGreaterThanOrEqual(3);
    },
  );
});

test("a door that stands half open is told as one, at least half of them in time", () => {
  const script = doors(0.5);
  const told = firstOf(judged({ days: 7, seed: 4, script }), script);
  const named = told.filter((first) => first?.cause === "door-ajar");
  // Half open, the air warms no faster than this fridge's own defrosts: not all can be told apart.
  expect(named.filter((first) => first!.afterMin <= 8).length).toBeGreaterThanOrEqual(2);
});

test("a door left wide open on a fridge's first day is told within a quarter of an hour", () => {
  const told = [3, 5, 8, 13].flatMap((seed) => {
    const startMs = START_MS + 7 * HOUR_MS;
    const endMs = startMs + 40 * MINUTE_MS;
    const script: Happening[] = [{ kind: "door", share: 1, startMs, endMs }];
    return firstOf(judged({ days: 1, seed, script }), script);
  });
  expect(told.map((first) => first?.cause)).toEqual(told.map(() => "door-ajar"));
  expect(Math.max(...told.map((first) => first!.afterMin))).toBeLessThanOrEqual(15);
});

test("in a cool room a door is told as one, though it warms the air by a kelvin only", () => {
  // A saw-tooth of 1 to 3.4 °C, then air that jumps and stands a little above its usual top, as
  // measured where the room is at 5 °C; then it is shut. Invented, a reading a minute.
  const random = seeded(11, "cool room");
  const openMin = 3 * 24 * 60 + 14;
  const airAt = (minute: number): number => {
    const phase = minute % 40;
    const tooth = phase < 26 ? 1 + (2.4 * phase) / 26 : 3.4 - (2.4 * (phase - 26)) / 14;
    if (minute < openMin || minute > openMin + 130) return tooth;
    return Math.min(3.9, tooth + 0.5 * (minute - openMin)) < 3.9 ? 3.2 : 3.9;
  };
  const readings = Array.from({ length: openMin + 300 }, (_, minute) => ({
    probeId: "shed-air",
    takenAtMs: START_MS + minute * MINUTE_MS,
    temperatureC: Math.round((airAt(minute) + 0.04 * drawNormal(random)) * 10) / 10,
    humidityPct: null,
  }));
  const { findings } = judge(readings.map(asReading), siteOf([["shed-air", "air"]]));
  const openMs = START_MS + openMin * MINUTE_MS;
  const since = findings.filter((f) => f.atMs >= openMs && f.cause !== "opening");
  expect(since[0]).toMatchObject({ cause: "door-ajar", urgency: "rush", change: "opened" });
  expect((since[0]!.atMs - openMs) / MINUTE_MS).toBeLessThan(60);
  expect(since.some((f) => f.cause === "door-ajar" && f.change === "ended")).toBe(true);
  expect(since.every((f) => f.cause !== "cooling-lost")).toBe(true);
});

test("a door that is opened wide, falls to and stands ajar is told, though the air has turned", () => {
  // A saw-tooth of 1 to 3.4 °C; six openings a day jump by 4 K and are half gone each two minutes,
  // with their vapour. Then one of which 2.8 K and 2 hPa above the top stay. Invented, a reading a
  // minute.
  const random = seeded(12, "falls to");
  const openMin = 5 * 24 * 60 + 20;
  const openings = [0, 1, 2, 3, 4].flatMap((day) =>
    [7.1, 9.4, 12.3, 14.2, 17.9, 20.6].map((hour) => Math.round((day * 24 + hour) * 60)),
  );
  const jumpAt = (minute: number): number => {
    const last = openings.findLast((at) => at <= minute) ?? Number.NEGATIVE_INFINITY;
    return 2 ** ((last - minute) / 2);
  };
  const readings = Array.from({ length: openMin + 60 }, (_, minute) => {
    const phase = minute % 40;
    const tooth = phase < 26 ? 1 + (2.4 * phase) / 26 : 3.4 - (2.4 * (phase - 26)) / 14;
    const ajar = minute <= openMin ? 0 : 1;
    const gone = 2 ** ((openMin + 1 - minute) / 2);
    const airC = ajar ? 6.2 + 1.6 * gone : tooth + 4 * jumpAt(minute);
    const hpa = ajar ? 7.2 + 2 * gone : 5.2 + 3.5 * jumpAt(minute);
    return {
      probeId: "shed-air",
      takenAtMs: START_MS + minute * MINUTE_MS,
      temperatureC: Math.round((airC + 0.04 * drawNormal(random)) * 10) / 10,
      humidityPct: Math.min(100, Math.round((100 * hpa) / saturationPressureHpa(airC))),
    };
  });
  const { findings } = judge(readings.map(asReading), siteOf([["shed-air", "air"]]));
  const openMs = START_MS + openMin * MINUTE_MS;
  const letters = lettersOf(findings);
  expect(letters.filter((f) => f.atMs < openMs && f.atMs > dayMs(1))).toEqual([]);
  expect(letters[0]).toMatchObject({ cause: "door-ajar", urgency: "rush", change: "opened" });
  expect((letters[0]!.atMs - openMs) / MINUTE_MS).toBeLessThan(12);
});

describe("a rise under way", () => {
  /** Three days of a saw-tooth of 1 to 3.4 °C, then the air of each minute that follows. */
  function watchThen(airsC: readonly number[]): AirWatch {
    const toothC = Array.from({ length: 3 * 24 * 60 + 20 }, (_, minute) => {
      const phase = minute % 40;
      return phase < 26 ? 1 + (2.4 * phase) / 26 : 3.4 - (2.4 * (phase - 26)) / 14;
    });
    return [...toothC, ...airsC].reduce((watch, airC, minute) => {
      const sample = { atMs: START_MS + minute * MINUTE_MS, airC, hpa: null };
      return stepAirWatch(watch, sample).watch;
    }, beginAirWatch());
  }
  /** Minutes from the end of the saw-tooth to where the rise is taken to begin. */
  const onsetMin = ({ rise }: AirWatch): number | null =>
    rise && (rise.onsetMs - START_MS) / MINUTE_MS - (3 * 24 * 60 + 19);

  test("begins anew where a slow one turns into one plainly faster: a door in a defrost", () => {
    // From 2.8 °C by 0.2 K a minute, then by 0.7.
    const slow = [3, 3.2, 3.4, 3.6, 3.8, 4, 4.2, 4.4, 4.6, 4.8];
    expect(onsetMin(watchThen(slow))).toBe(0);
    const bent = watchThen([...slow, 5.5, 6.2, 6.9]);
    // Four minutes are looked back, so that a minute of the slow climb counts with it.
    expect(onsetMin(bent)).toBe(9);
    expect(bent.rise!.under).not.toBeNull();
    expect(onsetMin(watchThen([...slow, 5.1, 5.4, 5.7, 6]))).toBe(0);
  });
});

const NOTED: readonly string[] = ["opening", "defrost"];

describe.each([1, 3])("a fortnight of ordinary openings and defrosts (seed %s)", (seed) => {
  let findings: readonly Finding[];
  beforeAll(() => {
    findings = judged({ days: 14, seed }).filter((f) => f.cause !== "probe-mute");
  });

  test("asks nobody to come once the fridge is known", () => {
    expect(lettersOf(findings).filter((f) => f.atMs > dayMs(2))).toEqual([]);
  });

  test("asks at most once in the two days in which it is not", () => {
    expect(lettersOf(findings).filter((f) => f.change === "opened").length).toBeLessThanOrEqual(1);
  });

  test("is a note for each that the air shows, when it is over", () => {
    const notes = findings.filter((f) => f.change === "opened" && f.urgency === "note");
    expect(notes.map((f) => f.cause).filter((c) => !NOTED.includes(c))).toEqual([]);
    // Six openings and three defrosts a day; short openings at the top of a swing are not seen.
    expect(notes.length).toBeGreaterThan(14 * 4);
    const ended = findings.filter((f) => f.change === "ended").map((f) => f.excursionId);
    expect(notes.map((f) => f.excursionId).filter((id) => !ended.includes(id))).toEqual([]);
  });
});

describe.each([
  ["short and steep", 10, 3.5],
  ["usual", 20, 5],
  ["long and warm", 30, 8],
])("defrosts by a timer of 8 h, %s", (_name, lengthMin, byK) => {
  /** A saw-tooth of 40 min from 1.2 to 3.4 °C; a defrost warms the air ever more slowly. */
  function airAt(minute: number, random: Seeded): number {
    const phase = minute % 40;
    const toothC = phase < 25 ? 1.2 + 0.088 * phase : 3.4 - 0.1467 * (phase - 25);
    const since = (minute + 200) % 480;
    const share = (m: number) => (1 - Math.exp((-2 * m) / lengthMin)) / (1 - Math.exp(-2));
    const over = since - lengthMin;
    const defrostK = over < 0 ? byK * share(since) : byK * Math.exp(-over / 9);
    return Math.round(10 * (toothC + defrostK + 0.04 * drawNormal(random))) / 10;
  }

  const random = seeded(lengthMin, "air");
  const events = Array.from({ length: 8 * 1_440 }, (_, minute) => {
    const takenAtMs = START_MS + minute * MINUTE_MS;
    const temperatureC = airAt(minute, random);
    // A heater brings no vapour of the room's; the ice it melts brings some.
    const humidityPct = 80 - 2.5 * (temperatureC - 2);
    return asReading({ probeId: "shed-air", takenAtMs, temperatureC, humidityPct });
  });
  const { findings } = judge(events, siteOf([["shed-air", "air"]]));

  test("ask nobody to come once the fridge is known", () => {
    expect(lettersOf(findings).filter((f) => f.atMs > dayMs(2))).toEqual([]);
  });

  test("are each a defrost in the digest", () => {
    const notes = findings.filter((f) => f.change === "opened" && f.startedAtMs > dayMs(2));
    const defrosts = notes.filter((f) => f.cause === "defrost");
    // Three a day for six days.
    expect(defrosts.length).toBeGreaterThanOrEqual(17);
    expect(defrosts.length).toBeLessThanOrEqual(18);
  });
});

describe("a compressor that died behind a shut door", () => {
  const dead: Happening = {
    kind: "compressor-dead",
    startMs: dayMs(3.4),
    endMs: dayMs(3.4) + 16 * HOUR_MS,
  };
  const course = liveCourse({ days: 5, seed: 6, script: [dead] });
  let findings: readonly Finding[];
  beforeAll(() => {
    findings = judgeCourse(course).findings;
  });

  test("is told as cooling lost, with a rush, and as nothing else", () => {
    const during = lettersOf(findings).filter(
      (f) => f.atMs >= dead.startMs && f.atMs <= dead.endMs,
    );
    expect(during.map((f) => [f.change, f.cause, f.urgency])).toEqual([
      ["opened", "cooling-lost", "rush"],
    ]);
  });

  test("is told before the cocoons pass 5 °C", () => {
    const told = findings.find((f) => f.cause === "cooling-lost")!;
    const warm = course.truths.find(({ atMs, truth }) => atMs > dead.startMs && truth.cocoonC > 5);
    expect(told.atMs).toBeLessThan(warm!.atMs);
  });

  test("foretells when the cocoons reach the band's edge and 10 °C, and the truth is between", () => {
    const told = findings.find((f) => f.cause === "cooling-lost")!;
    const reach = told.forecast!.reaches.find((r) => r.targetC === 10)!;
    const truth = course.truths.find(({ atMs, truth }) => atMs > told.atMs && truth.boxC > 10);
    expect(reach.soonestMin).toBeGreaterThan(0);
    const afterMin = truth === undefined ? 16 * 60 : (truth.atMs - told.atMs) / MINUTE_MS;
    expect(afterMin).toBeGreaterThanOrEqual(reach.soonestMin);
    if (truth !== undefined && reach.latestMin !== null)
      expect(afterMin).toBeLessThanOrEqual(reach.latestMin);
  });
});
