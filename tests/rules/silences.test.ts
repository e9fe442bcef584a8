import { describe, expect, test } from "vitest";
import type { JudgeEvent } from "../../rules/judge.js";
import { beginHearing, type Hearing, hear } from "../../rules/mute.js";
import { nextSilenceMs, tellSilences } from "../../rules/silences.js";
import type { Place, Site } from "../../shared/site.js";
import { HOUR_MS, MINUTE_MS, SECOND_MS } from "../../shared/time.js";
import { asReading, asTick, judge } from "./quillmere.js";

const START_MS = Date.UTC(2025, 10, 1);

function siteOf(places: readonly Place[]): Site {
  return {
    name: "Quillmere shed",
    timezone: "Europe/London",
    chambers: [],
    probes: places.map((place, i) => ({
      id: `probe-${i}`,
      chamberId: null,
      place,
      intervalMs: MINUTE_MS,
    })),
  };
}

/** Probes that each spoke last so many minutes after the start, having spoken each minute. */
function heardUntil(minutes: readonly (number | null)[]): readonly Hearing[] {
  return minutes.map((lastMin, i) => {
    let hearing = beginHearing(`probe-${i}`);
    if (lastMin !== null)
      for (let m = -10; m <= lastMin; m++) hearing = hear(hearing, START_MS + m * MINUTE_MS);
    return hearing;
  });
}

const tell = (hearings: readonly Hearing[], toMs: number, site: Site) =>
  tellSilences(hearings, toMs, site, []);

test("probes that fall silent together are one visit; the others are a note", () => {
  const site = siteOf(["air", "box", "wall"]);
  const { findings } = tell(heardUntil([0, 1, 0]), START_MS + HOUR_MS, site);
  expect(findings).toHaveLength(3);
  expect(findings.map((f) => f.change)).toEqual(["opened", "opened", "opened"]);
  expect(findings.filter((f) => f.urgency === "visit").map((f) => f.probeId)).toEqual(["probe-0"]);
  expect(new Set(findings.map((f) => f.excursionId)).size).toBe(3);
});

test("silences that begin far apart are a visit each", () => {
  const site = siteOf(["air", "box"]);
  const { findings } = tell(heardUntil([0, 60]), START_MS + 2 * HOUR_MS, site);
  expect(findings.map((f) => f.urgency)).toEqual(["visit", "visit"]);
});

test("silences count as together just within ten minutes", () => {
  const site = siteOf(["air", "box"]);
  const urgencies = (apartMin: number) =>
    tell(heardUntil([0, apartMin]), START_MS + 2 * HOUR_MS, site).findings.map((f) => f.urgency);
  expect(urgencies(9)).toEqual(["visit", "note"]);
  expect(urgencies(10)).toEqual(["visit", "visit"]);
});

test("a probe that does not watch the cocoons is a note, and does not speak for one that does", () => {
  const site = siteOf(["room", "wall", "outdoors", "air"]);
  const { findings } = tell(heardUntil([0, 1, 2, 3]), START_MS + HOUR_MS, site);
  expect(findings.map((f) => f.urgency)).toEqual(["note", "note", "note", "visit"]);
});

test("silences are told in order of time, each at the instant at which it began to count", () => {
  const site = siteOf(["air", "box", "room"]);
  const { findings } = tell(heardUntil([30, 0, 15]), START_MS + 2 * HOUR_MS, site);
  expect(findings.map((f) => f.probeId)).toEqual(["probe-1", "probe-2", "probe-0"]);
  for (const { atMs, startedAtMs } of findings) {
    expect(atMs - startedAtMs).toBeGreaterThan(3 * MINUTE_MS);
    expect(atMs - startedAtMs).toBeLessThanOrEqual(8 * MINUTE_MS);
  }
});

test("nothing counts before the soonest silence, and that one counts then", () => {
  const site = siteOf(["air", "box"]);
  const hearings = heardUntil([5, 2]);
  const soonestMs = nextSilenceMs(hearings, site)!;
  expect(tell(hearings, soonestMs - 1, site).findings).toEqual([]);
  expect(tell(hearings, soonestMs, site).findings.map((f) => f.probeId)).toEqual(["probe-1"]);
});

test("probes never heard, or all told, leave nothing to wait for", () => {
  const site = siteOf(["air", "box"]);
  expect(nextSilenceMs(heardUntil([null, null]), site)).toBeNull();
  const told = tell(heardUntil([0, 1]), START_MS + HOUR_MS, site);
  expect(nextSilenceMs(told.hearings, site)).toBeNull();
  expect(tell(told.hearings, START_MS + 5 * HOUR_MS, site).findings).toEqual([]);
});

describe("when a silence ends", () => {
  /** Probes speak each minute from −10 to the first, and again from the second of their minutes. */
  type Speech = readonly [untilMin: number, againMin: number];

  /** What is told from the first return on, judged with a tick each minute for five hours. */
  function toldOnReturn(places: readonly Place[], speeches: readonly Speech[]) {
    const site = siteOf(places);
    const events: JudgeEvent[] = [];
    for (let m = -10; m < 300; m++) {
      const atMs = START_MS + m * MINUTE_MS;
      for (const [i, [untilMin, againMin]] of speeches.entries()) {
        if (m > untilMin && m < againMin) continue;
        const takenAtMs = atMs + i * SECOND_MS;
        events.push(asReading({ ...SPOKEN, probeId: `probe-${i}`, takenAtMs }));
      }
      events.push(asTick(atMs + 30 * SECOND_MS));
    }
    const { findings } = judge(events, site);
    const first = findings.findIndex((f) => f.change === "ended");
    return findings.slice(first).map((f) => [f.change, f.probeId, f.urgency]);
  }
  const SPOKEN = { temperatureC: 2.2, humidityPct: 65 };
  const NEVER = 1_000;

  test("the visit is passed on to one still silent that fell silent with it", () => {
    const told = toldOnReturn(
      ["air", "box", "wall"],
      [
        [0, 120],
        [1, NEVER],
        [0, NEVER],
      ],
    );
    expect(told).toEqual([
      ["ended", "probe-0", "visit"],
      ["raised", "probe-1", "visit"],
    ]);
  });

  test("those that come back soon after the first have no letter of their own", () => {
    for (const laterMin of [0, 1, 5]) {
      const told = toldOnReturn(
        ["air", "box"],
        [
          [0, 120],
          [1, 120 + laterMin],
        ],
      );
      expect(told, `${laterMin} min later`).toEqual([
        ["ended", "probe-0", "visit"],
        ["ended", "probe-1", "note"],
      ]);
    }
  });

  test("nothing is passed on to a probe that does not watch the cocoons", () => {
    const told = toldOnReturn(
      ["air", "wall"],
      [
        [0, 120],
        [1, NEVER],
      ],
    );
    expect(told).toEqual([["ended", "probe-0", "visit"]]);
  });

  test("a note ends by itself and takes nothing along", () => {
    const told = toldOnReturn(
      ["air", "box"],
      [
        [0, NEVER],
        [1, 120],
      ],
    );
    expect(told).toEqual([["ended", "probe-1", "note"]]);
  });

  test("one visit is enough: while another is open, none is passed on", () => {
    const told = toldOnReturn(
      ["air", "air", "box"],
      [
        [0, 120],
        [1, NEVER],
        [30, NEVER],
      ],
    );
    expect(told).toEqual([["ended", "probe-0", "visit"]]);
  });
});
