import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { describe, expect, onTestFinished, test } from "vitest";
import { composeDigest } from "../../../daemon/digest/compose-digest.js";
import { digestFigures } from "../../../daemon/digest/figures.js";
import { type DigestMaterial, gatherDigest } from "../../../daemon/digest/material.js";
import { judgeWeek } from "../../../daemon/digest/verdict.js";
import type { ProbeStanding } from "../../../daemon/probes/standing.js";
import { openStore } from "../../../daemon/store/store.js";
import { type ChamberFigures, nothingSeen } from "../../../rules/season.js";
import { DAY_MS, HOUR_MS, MINUTE_MS } from "../../../shared/time.js";
import { CONTEXT, excursionOf, finding, QUILLMERE } from "../letters/quillmere.js";
import { visibleText } from "../letters/visible-text.js";
import { hourOf, MONDAY_MS, quietWeek, WEEK } from "./week.js";

const SENT_MS = WEEK.toMs + 7 * HOUR_MS;
const judged = (material: DigestMaterial) => judgeWeek(digestFigures(material));
function written(material: DigestMaterial) {
  const figures = digestFigures(material);
  return composeDigest(figures, judgeWeek(figures), SENT_MS, CONTEXT);
}
const kinds = (material: DigestMaterial): string[] =>
  judged(material).reasons.map(({ kind, weight }) => `${weight} ${kind}`);

/** A quiet week in which the hours of one probe are put otherwise. */
function weekWith(probeId: string, changed: Parameters<typeof hourOf>[2], count = 168) {
  const quiet = quietWeek();
  const hours = quiet.hours.map((hour, i) =>
    hour.probeId === probeId && i % 168 < count ? hourOf(probeId, i % 168, changed) : hour,
  );
  return { ...quiet, hours };
}

const doorAjar = (cost: Partial<ReturnType<typeof finding>["cost"]>, highC = 4) =>
  excursionOf(
    finding({
      change: "ended",
      cost: { ...finding().cost, ...cost },
      cocoonSpanC: { low: 2, high: highC },
    }),
  );

test("a quiet week is sound, and its letter says to leave all as it is", () => {
  expect(judged(quietWeek())).toEqual({ word: "sound", reasons: [] });
  const letter = written(quietWeek());
  expect(letter.subject).toBe("Leave all as it is, the week was sound: Quillmere shed");
  expect(letter.text).toMatch(/^Leave all as it is: the week was sound\.\n/);
  expect(letter.text).toMatch(/Cocoons in band +100 %/);
  expect(letter.text).toMatch(/Cocoons coldest, warmest +1\.8 °C, 2\.6 °C/);
  expect(letter.text).toMatch(/Air coldest, warmest +0\.6 °C, 3\.8 °C/);
  expect(letter.text).toMatch(/Humidity +63 to 70 %/);
  expect(letter).toMatchObject({ kind: "digest", excursionId: null, inReplyTo: null });
});

test("each limit is kept on both its sides", () => {
  // The limits are our choice, but for 10 °C: see where they are defined.
  const box = (lowC: number, highC: number) =>
    weekWith("shed-box", { temperature: { count: 60, meanC: 2, lowC, highC }, meanPct: null }, 1);
  expect(kinds(box(1, 9.9))).toEqual([]);
  expect(kinds(box(1, 10))).toEqual(["harmed hot"]);
  expect(kinds(box(0, 3))).toEqual([]);
  expect(kinds(box(-0.1, 3))).toEqual(["strained frost"]);
  expect(kinds(box(-5, 3))).toEqual(["strained frost"]);
  expect(kinds(box(-5.1, 3))).toEqual(["harmed frost"]);
  const warmth = (degreeHoursAbove: number) =>
    kinds(quietWeek({ excursions: [doorAjar({ degreeHoursAbove })] }));
  expect(warmth(11.9)).toEqual(["strained excursions"]);
  expect(warmth(12)).toEqual(["strained warmth", "strained excursions"]);
  expect(warmth(72)).toEqual(["harmed warmth", "strained excursions"]);
  // 8 of 168 hours are 4.8 %, 9 are 5.4 %.
  const outside = (hours: number) => weekWith("shed-box", { meanC: 3.4, meanPct: null }, hours);
  expect(kinds(outside(8))).toEqual([]);
  expect(kinds(outside(9))).toEqual(["strained band"]);
  // 42 of 168 hours are a quarter.
  const air = (meanPct: number, hours: number) => weekWith("shed-air", { meanPct }, hours);
  // Above the band of 60 to 70 % is no strain; what is told as damp is, from 80 % on.
  expect(kinds(air(79, 168))).toEqual([]);
  expect(kinds(air(81, 42))).toEqual([]);
  expect(kinds(air(81, 43))).toEqual(["strained damp"]);
  expect(kinds(air(50, 43))).toEqual(["strained dry"]);
});

test("ordinary openings and defrosts weigh nothing and are counted", () => {
  const opening = { ...doorAjar({}), cause: "opening", urgency: "note" } as const;
  const material = quietWeek({ excursions: [opening, opening] });
  expect(judged(material).word).toBe("sound");
  expect(written(material).text).toContain("Ordinary openings: 2. Defrosts: 0.");
});

test("a week with a dead board says what was not seen and is not sound", () => {
  const material = quietWeek({ hours: [], lastHeardMs: new Map() });
  expect(judged(material)).toMatchObject({ word: "strained", reasons: [{ kind: "unseen" }] });
  const { text } = written(material);
  expect(text).toMatch(/^See why nothing was heard: the week was strained\.\n/);
  expect(text).toContain(
    "Nothing was heard from 00:00 on Monday 5 January to 00:00 on Monday 12 January, 7 days. What the cocoons felt then is not known.",
  );
  expect(text).toContain("Nothing was measured there this week.");
  expect(text).toMatch(/shed-box +not known \(never heard\)/);
});

test("hours without any reading are named, and do not count against single probes", () => {
  const quiet = quietWeek();
  const [from, to] = [MONDAY_MS + 31 * HOUR_MS, MONDAY_MS + 44 * HOUR_MS];
  const hours = quiet.hours.filter(({ fromMs }) => fromMs < from || fromMs >= to);
  const figures = digestFigures({ ...quiet, hours });
  expect(figures.unseen).toEqual([{ fromMs: from, toMs: to }]);
  expect(figures.probes.map(({ heardShare }) => heardShare)).toEqual([1, 1, 1]);
  expect(kinds({ ...quiet, hours })).toEqual(["strained unseen"]);
  expect(written({ ...quiet, hours }).text).toContain(
    "Nothing was heard from 07:00 to 20:00 on Tuesday 6 January, 13 hours.",
  );
});

test("two hours without any reading are named in a week that is sound for all that", () => {
  const quiet = quietWeek();
  const [from, to] = [MONDAY_MS + 31 * HOUR_MS, MONDAY_MS + 33 * HOUR_MS];
  const hours = quiet.hours.filter(({ fromMs }) => fromMs < from || fromMs >= to);
  expect(judged({ ...quiet, hours }).word).toBe("sound");
  expect(written({ ...quiet, hours }).text).toContain(
    "Nothing was heard from 07:00 to 09:00 on Tuesday 6 January, 2 hours. What the cocoons felt then is not known.",
  );
});

test("a probe heard badly strains the week only where the verdict leans on it", () => {
  const quiet = quietWeek();
  const without = (probeId: string) =>
    quietWeek({
      hours: quiet.hours.filter((hour, i) => hour.probeId !== probeId || i % 168 >= 20),
    });
  expect(kinds(without("shed-air"))).toEqual(["strained deaf"]);
  expect(kinds(without("yard"))).toEqual(["aside deaf"]);
  expect(judged(without("yard")).word).toBe("sound");
});

test("a probe that was not to be believed for six hours strains the week, a parting is said", () => {
  const fault = (cause: "probe-stuck" | "probe-drift", hours: number) =>
    excursionOf(
      finding({
        cause,
        urgency: "visit",
        change: "ended",
        startedAtMs: MONDAY_MS,
        atMs: MONDAY_MS + hours * HOUR_MS,
      }),
    );
  expect(kinds(quietWeek({ excursions: [fault("probe-stuck", 5.9)] }))).toEqual([]);
  const stuck = quietWeek({ excursions: [fault("probe-stuck", 6)] });
  expect(kinds(stuck)).toEqual(["strained doubted"]);
  expect(written(stuck).subject).toMatch(
    /^Look at the probe that is not to be believed, the week was strained/,
  );
  const open = { ...fault("probe-drift", 100), endedAtMs: null };
  expect(kinds(quietWeek({ excursions: [open] }))).toEqual(["aside parted"]);
  expect(kinds(quietWeek({ excursions: [fault("probe-drift", 100)] }))).toEqual([]);
});

test("a fault of a probe that was only noted is told with what it said, checks beside", () => {
  const wild = excursionOf(
    finding({
      cause: "probe-wild",
      urgency: "note",
      change: "ended",
      startedAtMs: MONDAY_MS + 9 * HOUR_MS,
      atMs: MONDAY_MS + 10 * HOUR_MS,
      comparedWith: "85.0 °C, which a DS18B20 holds after power-on until it has measured",
    }),
  );
  const standing: ProbeStanding = {
    probeId: "shed-air",
    chamberId: "shed",
    place: "air",
    raw: null,
    latest: null,
    heardShare: 1,
    corrections: { temperature: { checkId: "c", madeAtMs: 0, added: -0.31 }, humidity: null },
    check: { lastMs: MONDAY_MS - 400 * DAY_MS, dueMs: MONDAY_MS - 35 * DAY_MS, isOverdue: true },
    drifts: [],
    faults: [],
    battery: { value: 12, unit: "%", low: 20, atMs: MONDAY_MS },
  };
  const { text } = written(quietWeek({ excursions: [wild], standings: [standing] }));
  expect(text.replace(/\s+/g, " ")).toMatch(
    /shed-air: probe wild from 09:00 on Monday \d+ \w+, for 1 hour: 85\.0 °C, which a DS18B20 holds/,
  );
  expect(text.replace(/\s+/g, " ")).toMatch(
    /corrected by −0\.31 °C; checked \d+ \w+ 202\d, due \d+ \w+ 202\d/,
  );
  expect(text.replace(/\s+/g, " ")).toContain("shed-air: Its check is overdue since");
  expect(text.replace(/\s+/g, " ")).toMatch(/shed-air: Its battery is low: on .* it had 12 %/);
});

test("a first week counts from the first reading and says when that was", () => {
  const quiet = quietWeek();
  const watchedFromMs = MONDAY_MS + 100 * HOUR_MS;
  const material = quietWeek({
    watchedFromMs,
    hours: quiet.hours.filter(({ fromMs }) => fromMs >= watchedFromMs),
  });
  expect(judged(material).word).toBe("sound");
  expect(written(material).text).toContain("The first reading came at 04:00 on Friday 9 January.");
});

test("letters that were given up are told, each keeper counted", () => {
  const letter = written(quietWeek());
  const delivery = { letterId: letter.id, attempts: 1, nextTryAtMs: 0, lastError: null };
  const deliveries = [
    { ...delivery, keeper: "ann@example.org", sentAtMs: 1, givenUpAtMs: null },
    { ...delivery, keeper: "bo@example.org", sentAtMs: null, givenUpAtMs: 2 },
  ];
  const material = quietWeek({ letters: [{ letter, deliveries }] });
  expect(judged(material).word).toBe("sound");
  expect(written(material).text).toMatch(/Delivered, counting every keeper +1\n +Given up +1/);
  expect(written(material).subject).toMatch(/^See why letters did not arrive/);
});

test("what the judge reckoned is used where no probe lies in a box", () => {
  const site = { ...QUILLMERE, probes: QUILLMERE.probes.filter(({ place }) => place !== "box") };
  const chamber = {
    ...nothingSeen("shed"),
    fromMs: 0,
    seenHours: 160,
    inBandShare: 0.91,
    cocoonSpanC: { low: 1.5, high: 5.1 },
    meanKineticC: 2.4,
    degreeHoursAbove: 3,
    degreeHoursBelow: 0,
    reserveDays: 6.2,
    reserveDaysSpan: { low: 5.9, high: 6.6 },
  };
  const { text } = written(quietWeek({ site, week: { ...WEEK, chambers: [chamber] } }));
  expect(text).toMatch(/Cocoons in band +91 % \(of the time seen, reckoned from the air\)/);
  expect(text).toMatch(/Cocoons coldest, warmest +1\.5 °C, 5\.1 °C/);
  expect(text).toMatch(/Reserve used +about 6\.2 days \(5\.9 to 6\.6; .*reckoned, not measured\)/);
  expect(text).toContain("91 % of the time that was seen");
});

test("no digest shouts, and its first line is an instruction", () => {
  const bad = weekWith("shed-box", { meanC: -7, meanPct: null });
  for (const material of [quietWeek(), bad, quietWeek({ hours: [] })]) {
    const { subject, text, html } = written(material);
    expect(`${subject}${text}${visibleText(html)}`).not.toContain("!");
    expect(text).toMatch(/^(Leave|See|Turn|Find|Look|Air|Damp|Set) /);
  }
});

test("figures gathered from a real store are those of its readings", () => {
  const folder = mkdtempSync(join(tmpdir(), "drowse-digest-"));
  const store = openStore(folder, QUILLMERE);
  onTestFinished(() => {
    store.close();
    rmSync(folder, { recursive: true, force: true });
  });
  // Two days on: the box at 2 °C, warm at 4 °C for the last 12 of 48 hours; the air at 3 °C, 65 %.
  const minutes = Array.from({ length: 48 * 60 }, (_, i) => i);
  const readings = minutes.flatMap((minute) => {
    const takenAtMs = MONDAY_MS + 48 * HOUR_MS + minute * MINUTE_MS;
    const boxC = minute < 36 * 60 ? 2 : 4;
    return [
      { probeId: "shed-air", takenAtMs, temperatureC: 3, humidityPct: 65 },
      { probeId: "shed-box", takenAtMs, temperatureC: boxC, humidityPct: null },
    ];
  });
  store.commit({ readings, findings: [], letters: [], judge: null, heard: [] }, []);
  const figures = digestFigures(gatherDigest(store, QUILLMERE, WEEK, { week: null, season: null }));
  const [shed] = figures.chambers;
  expect(shed!.cocoons).toMatchObject({ hours: 48, inBandShare: 0.75, low: 2, high: 4, mean: 2.5 });
  expect(shed!.air).toMatchObject({ inBandShare: 1, low: 3, high: 3 });
  expect(shed!.humidity).toMatchObject({ mean: 65, inBandShare: 1 });
  expect(figures.watchedFromMs).toBe(MONDAY_MS + 48 * HOUR_MS);
  // Heard for two days, then silent to the week's end: three days not seen.
  expect(figures.unseenHours).toBe(72);
  expect(figures.probes.map(({ heardShare }) => heardShare)).toEqual([1, 1, 0]);
});

describe("the winter so far", () => {
  const season = (changed: Partial<ChamberFigures>) =>
    quietWeek({
      season: {
        ...WEEK,
        chambers: [
          {
            ...nothingSeen("shed"),
            fromMs: WEEK.fromMs - 60 * DAY_MS,
            seenHours: 1_600,
            inBandShare: 0.97,
            cocoonSpanC: { low: 1.2, high: 4.4 },
            reserveDays: 55.1,
            reserveDaysSpan: { low: 50.2, high: 59.7 },
            ...changed,
          },
        ],
      },
    });

  test("is told with cold, wintering, humidity, mould, drying and what nobody saw", () => {
    const dark = { fromMs: WEEK.fromMs + HOUR_MS, toMs: WEEK.fromMs + 6 * HOUR_MS };
    const stretch = { ...dark, coldestC: -6, warmestC: 14.1, uncooledC: { low: 6, high: 14.1 } };
    const wet = {
      fromMs: WEEK.fromMs + 9 * HOUR_MS,
      toMs: WEEK.fromMs + 10 * HOUR_MS,
      wetMs: 25 * MINUTE_MS,
      mostGPerM2: 0,
      after: null,
    };
    const material = season({
      chillDays: 64.2,
      wintering: {
        days: 66,
        steadyC: 2.2,
        matrix: "suitable",
        reserve: "ample",
        verdict: "sound",
        speaks: "both",
      },
      humidityFrom: "box",
      cocoonHumidityPct: 66,
      cocoonHumiditySpanPct: { low: 61, high: 74 },
      humidityInBandShare: 0.9,
      wetHours: 3,
      wetSpells: [
        { ...wet, surface: "wall", after: "opening", mostGPerM2: 12 },
        { ...wet, surface: "cocoons", wetMs: 42 * MINUTE_MS, after: "door-ajar" },
        { ...wet, surface: "wall", wetMs: 30_000 },
      ],
      mouldIndex: 0.24,
      mouldLooked: { atMs: WEEK.fromMs, seen: false },
      dryOn: {
        atMs: WEEK.toMs + 5 * DAY_MS,
        spanMs: { low: WEEK.toMs + 3 * DAY_MS, high: WEEK.toMs + 9 * DAY_MS },
        basis: "trend",
      },
      lastDampedMs: WEEK.fromMs - 12 * DAY_MS,
      dark: { hours: 5, cocoonSpanC: { low: -6, high: 14.1 }, stretches: [stretch] },
    });
    const { text } = written({ ...material, hours: withGap(material.hours) });
    expect(text).toMatch(/Days of cold +64 \(90 to 150 are best, found on other mason bees\)/);
    expect(text).toMatch(
      /Wintering so far +sound \(suitable by a study of male Osmia lignaria, as 2\.2 °C/,
    );
    expect(text).toMatch(
      /Humidity at the cocoons +66 % \(measured in a box; 61 to 74 % so far; 90 %/,
    );
    expect(text).toMatch(/Wet +3 hours/);
    expect(text).toMatch(
      /Cocoons last wet +42 minutes \(from 09:00 on Monday 5 January; after a door left open\)/,
    );
    expect(text).toMatch(
      /Wall last wet +25 minutes \(from 09:00 .*; after an opening; at most 0\.012 mm of water/,
    );
    expect(text).toMatch(
      /Mould index +0\.2 of 6 \(by a model made for pine wood; you saw none on Monday/,
    );
    expect(text).toMatch(
      /Falls below its humidity band +about Saturday 17 January \(by its trend;/,
    );
    expect(text).toMatch(/Not seen +5 hours \(cocoons 14\.1 °C at the most\)/);
    expect(text).toContain("cocoons at shed can have reached 14.1 °C at the most.");
  });

  test("weighs in the verdict by mould and by matrix and reserve", () => {
    expect(kinds(season({ mouldIndex: 0.9 }))).toEqual([]);
    expect(kinds(season({ mouldIndex: 1 }))).toEqual(["strained mould"]);
    expect(kinds(season({ mouldIndex: 3 }))).toEqual(["harmed mould"]);
    const wintering = {
      days: 215,
      steadyC: 6.1,
      matrix: "unsuitable",
      reserve: "thin",
      verdict: "harmed",
      speaks: "matrix",
    } as const;
    const bad = season({ wintering });
    expect(kinds(bad)).toEqual(["harmed winter"]);
    expect(written(bad).text).toContain("was found unsuitable in a study of male Osmia lignaria");
    const doubtful = { ...wintering, matrix: "doubtful", verdict: "strained" } as const;
    expect(kinds(season({ wintering: doubtful }))).toEqual(["strained winter"]);
  });
});

/** The week with five hours missing on Monday morning, of all probes. */
function withGap(hours: DigestMaterial["hours"]): DigestMaterial["hours"] {
  return hours.filter(
    (h) => h.fromMs < WEEK.fromMs + HOUR_MS || h.fromMs >= WEEK.fromMs + 6 * HOUR_MS,
  );
}
