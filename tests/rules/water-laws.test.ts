import { beforeAll, describe, expect, test } from "vitest";
import { adoptJudge, type JudgeEvent, type JudgeState } from "../../rules/judge.js";
import { draw, seeded } from "../../sensors/simulated/seeded.js";
import type { Finding } from "../../shared/excursion.js";
import { DAY_MS, HOUR_MS } from "../../shared/time.js";
import { readingsOf, type Told, tendedAt, told } from "./damp-course.js";
import { judge, START_MS, siteOf } from "./quillmere.js";

/*
 * Fifty days that have all of it: a damping, damp, mould, a look, a stretch that nobody saw, water
 * on the cocoons, dryness; with two boxes, a wall and a room.
 */

const DAY = 24;
const site = siteOf(
  [
    ["air", "air"],
    ["box-a", "box"],
    ["box-b", "box"],
    ["wall", "wall"],
    ["room", "room"],
  ],
  300_000,
);

const swing = (hour: number, by: number) => by * Math.sin(hour * 9);
const dark = (hour: number) => hour >= 45 * DAY && hour < 46.2 * DAY;
const seen = (c: (hour: number) => number) => (hour: number) => (dark(hour) ? null : c(hour));

const PROBES: readonly Told[] = [
  {
    id: "air",
    place: "air",
    c: seen((h) => (h > 48 * DAY ? 6 : 2.8) + swing(h, 0.8)),
    pct: (h) => (h > 48 * DAY ? 97 : 70 + swing(h, 5)),
  },
  {
    id: "box-a",
    place: "box",
    c: seen((h) => 3 + swing(h - 1, 0.2)),
    pct: (h) => (h < 3 * DAY ? 64 : h < 42 * DAY ? 97 + swing(h, 0.5) : 66),
  },
  {
    id: "box-b",
    place: "box",
    c: seen((h) => 2.6 + swing(h - 1, 0.2)),
    pct: (h) => (h < 30 * DAY ? 66 : 66 - (h / DAY - 30)),
  },
  { id: "wall", place: "wall", c: seen((h) => 0.5 + swing(h, 0.4)), pct: null },
  { id: "room", place: "room", c: 17, pct: 50 },
];
const DEEDS = [
  tendedAt(3 * DAY, "damped"),
  tendedAt(20 * DAY, "aired"),
  tendedAt(41.5 * DAY, "mould-seen"),
  tendedAt(41.5 * DAY, "inspected"),
];

let events: readonly JudgeEvent[];
let expected: readonly Finding[];
let last: JudgeState;

beforeAll(() => {
  events = told(readingsOf(50 * DAY, PROBES), DEEDS);
  ({ findings: expected, state: last } = judge(events, site));
});

test("the story these laws are tried on has damp, mould, dryness, water and the dark in it", () => {
  const said = new Set(expected.map((f) => `${f.change} ${f.cause} ${f.urgency}`));
  for (const what of [
    "opened damp visit",
    "raised mould visit",
    "ended damp visit",
    "opened dry note",
    "raised dry visit",
    "opened warm visit",
    "opened probe-mute visit",
  ])
    expect(said).toContain(what);
  expect(expected.some((f) => f.beside?.dark)).toBe(true);
});

describe("the same excursions come of the same readings and deeds", () => {
  test("when the judge is stopped and started anywhere", () => {
    const random = seeded(7, "restart");
    const restart = (state: JudgeState): JudgeState =>
      draw(random) < 0.02 ? adoptJudge(JSON.parse(JSON.stringify(state)), site) : state;
    expect(judge(events, site, restart).findings).toEqual(expected);
  });

  test("when readings and deeds are repeated at random", () => {
    const random = seeded(8, "repeat");
    const repeated = events.flatMap((event, i) =>
      draw(random) < 0.2 ? [event, events[Math.floor(i * draw(random))]!, event] : [event],
    );
    expect(judge(repeated, site).findings).toEqual(expected);
  });

  test("when probes of one moment come in any order", () => {
    const random = seeded(9, "order");
    const msOf = (e: JudgeEvent) =>
      e.kind === "reading" ? e.reading.takenAtMs : Math.floor(e.atMs / 20_000) * 20_000;
    const shuffled = events
      .map((event) => ({ event, ms: msOf(event), key: draw(random) }))
      .sort((a, b) => a.ms - b.ms || a.key - b.key)
      .map(({ event }) => event);
    expect(judge(shuffled, site).findings).toEqual(expected);
  });

  test("when all deeds are told again at each restart, as the journal is", () => {
    const random = seeded(10, "journal");
    const again = events.flatMap((event, i) => {
      if (draw(random) > 0.002) return [event];
      const atMs = event.kind === "reading" ? event.reading.takenAtMs : event.atMs;
      return [...DEEDS.filter((d) => d.atMs <= atMs && i > 0), event];
    });
    expect(judge(again, site).findings).toEqual(expected);
  });

  test("when a watch is fed again from an earlier memory", () => {
    // A start takes up a memory that is minutes old and is fed all readings after it once more.
    const cut = Math.floor(events.length * 0.6);
    const { state, findings: before } = judge(events.slice(0, cut), site);
    const memory = adoptJudge(JSON.parse(JSON.stringify(state)), site);
    const fed = judge(events.slice(cut - 500), site, (s) => (s.nowMs === 0 ? memory : s)).findings;
    expect([...before, ...fed]).toEqual(expected);
  });
});

test("a deed that was told by mistake and taken back leaves the judgement as it was", () => {
  const wrong = tendedAt(4 * DAY, "damped");
  const cut = events.findIndex(
    (e) => e.kind === "reading" && e.reading.takenAtMs > START_MS + 4 * DAY_MS,
  );
  const mistaken = [
    ...events.slice(0, cut),
    wrong,
    { ...wrong, withdrawn: true },
    ...events.slice(cut),
  ];
  expect(judge(mistaken, site).findings).toEqual(expected);
});

test("costs are sums: they never run backwards, and an excursion's own is within the winter's", () => {
  const costs = new Map<string, number>();
  for (const f of expected) {
    const { wetHours } = f.cost;
    if (wetHours === null) continue;
    expect(wetHours).toBeGreaterThanOrEqual(costs.get(f.excursionId) ?? 0);
    costs.set(f.excursionId, wetHours);
  }
  expect(last.chambers[0]!.slow.water!.wetHours).toBeLessThan((50 * DAY_MS) / HOUR_MS);
});
