import { beforeAll, describe, expect, test } from "vitest";
import {
  adoptJudge,
  beginJudge,
  type JudgeEvent,
  type JudgeState,
  stepJudge,
} from "../../rules/judge.js";
import type { Happening } from "../../sensors/simulated/script.js";
import { draw, drawBetween, drawOne, type Seeded, seeded } from "../../sensors/simulated/seeded.js";
import type { Finding } from "../../shared/excursion.js";
import type { Reading } from "../../shared/reading.js";
import type { Site } from "../../shared/site.js";
import { DAY_MS, HOUR_MS, MINUTE_MS, SECOND_MS } from "../../shared/time.js";
import {
  asReading,
  asTick,
  dayMs,
  judge,
  judgeCourse,
  liveCourse,
  START_MS,
  siteOf,
} from "./quillmere.js";

const SEEDS = [1, 2];
/** Readings this close together are judged as one moment: the same third of a minute. */
const momentOf = ({ takenAtMs }: Reading): number => Math.floor(takenAtMs / (20 * SECOND_MS));

/** Two chambers that go through a door left open, a dead compressor, frost and silences. */
function liveStory(): { site: Site; readings: readonly Reading[] } {
  const at = (days: number, hours: number) => ({
    startMs: dayMs(days),
    endMs: dayMs(days) + hours * HOUR_MS,
  });
  const shed: Happening[] = [
    { kind: "door", share: 0.9, ...at(1.4, 1.5) },
    { kind: "compressor-dead", ...at(2.3, 20) },
    { kind: "mute", probeId: "shed-air", ...at(3.6, 3) },
    { kind: "mute", probeId: null, ...at(4.2, 2) },
  ];
  const loft: Happening[] = [
    { kind: "door", share: 0.9, ...at(0.6, 5) },
    { kind: "contacts-welded", ...at(2.2, 30) },
    { kind: "mute", probeId: "shed-box", ...at(4.1, 9) },
  ];
  const one = liveCourse({ days: 5, seed: 1, script: shed });
  const two = liveCourse({ days: 5, seed: 2, script: loft });
  const rename = (id: string) => id.replace("shed", "loft");
  const second = two.readings.map((r) => ({ ...r, probeId: rename(r.probeId) }));
  const chamber = one.site.chambers[0]!;
  const site: Site = {
    ...one.site,
    chambers: [chamber, { ...chamber, id: "loft" }],
    probes: [
      ...one.site.probes,
      ...two.site.probes.map((p) => ({ ...p, id: rename(p.id), chamberId: "loft" })),
    ],
  };
  const readings = [...one.readings, ...second].sort((a, b) => a.takenAtMs - b.takenAtMs);
  return { site, readings };
}

let site: Site;
let readings: readonly Reading[];
let expected: readonly Finding[];

beforeAll(() => {
  ({ site, readings } = liveStory());
  expected = judge(readings.map(asReading), site).findings;
});

test("the story these laws are tried on has doors, compressors, frost and silences in it", () => {
  const told = new Set(expected.map((f) => `${f.chamberId} ${f.change} ${f.cause}`));
  for (const what of [
    "shed opened cooling-lost",
    "shed ended cooling-lost",
    "shed opened probe-mute",
    "shed ended probe-mute",
    "loft opened over-cooling",
    "loft opened defrost",
    "loft opened opening",
  ])
    expect(told).toContain(what);
  expect(expected.length).toBeGreaterThan(50);
});

describe("the same findings come of the same readings", () => {
  test("when they are judged again", () => {
    expect(judge(readings.map(asReading), site).findings).toEqual(expected);
  });

  test.each(SEEDS)("when the judge is stopped and started anywhere (seed %s)", (seed) => {
    const random = seeded(seed, "restart");
    const restart = (state: JudgeState): JudgeState =>
      draw(random) < 0.05 ? adoptJudge(JSON.parse(JSON.stringify(state)), site) : state;
    expect(judge(readings.map(asReading), site, restart).findings).toEqual(expected);
  });

  test.each(SEEDS)("when earlier readings are repeated at random (seed %s)", (seed) => {
    const random = seeded(seed, "repeat");
    const repeated = readings.flatMap((reading, i) =>
      draw(random) < 0.3
        ? [reading, readings[Math.floor(i * draw(random))]!, readings[i]!]
        : [reading],
    );
    expect(judge(repeated.map(asReading), site).findings).toEqual(expected);
  });

  test.each(SEEDS)("when probes of one moment come in any order (seed %s)", (seed) => {
    const random = seeded(seed, "order");
    const keyed = readings.map((r) => ({ r, moment: momentOf(r), key: draw(random) }));
    const shuffled = keyed.sort((a, b) => a.moment - b.moment || a.key - b.key).map(({ r }) => r);
    expect(shuffled).not.toEqual(readings);
    expect(judge(shuffled.map(asReading), site).findings).toEqual(expected);
  });

  test.each(SEEDS)("when ticks are sprinkled in (seed %s)", (seed) => {
    const random = seeded(seed, "ticks");
    const events = readings.flatMap((reading, i): JudgeEvent[] => {
      const beforeMs = readings[i - 1]?.takenAtMs ?? reading.takenAtMs;
      const ticks = Math.floor(3 * draw(random));
      const times = Array.from({ length: ticks }, () =>
        Math.floor(drawBetween(random, beforeMs, reading.takenAtMs)),
      );
      return [...times.sort((a, b) => a - b).map(asTick), asReading(reading)];
    });
    expect(judge(events, site).findings).toEqual(expected);
  });

  test("when a site's clock ticks each second through a silence", () => {
    const quiet = readings.slice(0, 2_000);
    const lastMs = quiet[quiet.length - 1]!.takenAtMs;
    const ticks = Array.from({ length: 1_200 }, (_, i) => asTick(lastMs + i * SECOND_MS));
    const events = [...quiet.map(asReading), ...ticks];
    const once = [...quiet.map(asReading), asTick(lastMs + 1_199 * SECOND_MS)];
    expect(judge(events, site).findings).toEqual(judge(once, site).findings);
  });
});

test.each([2, 9])(
  "a chamber heard %s hours late is judged as it was, for all but its silences",
  (hours) => {
    const blockMs = hours * HOUR_MS;
    const blockOf = ({ takenAtMs }: Reading): number =>
      Math.floor((takenAtMs - START_MS) / blockMs);
    const isLate = ({ probeId }: Reading): boolean => probeId.startsWith("loft");
    const events: JudgeEvent[] = [];
    for (let block = 0; block <= blockOf(readings.at(-1)!); block++) {
      const own = readings.filter((r) => blockOf(r) === block);
      events.push(...own.filter((r) => !isLate(r)).map(asReading));
      events.push(asTick(START_MS + (block + 1) * blockMs));
      events.push(...own.filter(isLate).map(asReading));
    }
    events.push(asTick(START_MS + 6 * DAY_MS));
    const said = (findings: readonly Finding[]) =>
      findings.filter(({ cause, chamberId }) => cause !== "probe-mute" && chamberId === "loft");
    const late = judge(events, site).findings;
    expect(said(late)).toEqual(
      said(judge([...readings.map(asReading), asTick(dayMs(6))], site).findings),
    );
    expect(said(late).length).toBeGreaterThan(20);
  },
);

test("what comes of a moment that was judged too soon takes nothing that is still to come with it", () => {
  const momentOf = ({ takenAtMs }: Reading) => Math.floor(takenAtMs / (20 * SECOND_MS));
  const isCut = (i: number) =>
    momentOf(readings[i]!) === momentOf(readings[i + 1]!) &&
    readings[i]!.probeId.startsWith("loft") &&
    readings[i + 1]!.probeId.startsWith("loft");
  const cut = readings.findIndex((_, i) => i > 3_000 && isCut(i)) + 1;
  expect(cut).toBeGreaterThan(3_000);
  // As where a sensor falters in the midst of what it hands over: it is told the time, far ahead,
  // once before the straggler and once after it.
  const events: JudgeEvent[] = readings.map(asReading);
  const whole = judge([...events, asTick(dayMs(7))], site).findings;
  const broken = judge(
    [
      ...events.slice(0, cut),
      asTick(dayMs(6)),
      events[cut]!,
      asTick(dayMs(6) + MINUTE_MS),
      ...events.slice(cut + 1),
      asTick(dayMs(7)),
    ],
    site,
  );
  const said = (findings: readonly Finding[]) =>
    findings
      .filter(({ cause, chamberId }) => cause !== "probe-mute" && chamberId === "loft")
      .map(({ excursionId, change }) => `${excursionId} ${change}`);
  expect(said(broken.findings)).toEqual(said(whole));
  expect(said(whole).length).toBeGreaterThan(20);
});

test("probes that speak several times a moment are judged alike whoever is heard first", () => {
  const places = siteOf(
    [
      ["air-1", "air"],
      ["air-2", "air"],
      ["box-1", "box"],
    ],
    5 * SECOND_MS,
  );
  const random = seeded(21, "quick");
  const moments = Array.from({ length: 400 }, (_, moment) =>
    places.probes.map(({ id }, i) =>
      Array.from({ length: 4 }, (_, turn) => ({
        probeId: id,
        takenAtMs: START_MS + (moment * 4 + turn) * 5 * SECOND_MS + i,
        temperatureC: 2 + i + draw(random) + (moment > 200 ? 4 : 0),
        humidityPct: 65,
      })),
    ),
  );
  const end = asTick(START_MS + HOUR_MS * 3);
  const inTurn = moments.flatMap((probes) => probes.flat());
  const turned = moments.flatMap((probes) => probes.toReversed().flat());
  const [one, two] = [inTurn, turned].map((r) => judge([...r.map(asReading), end], places));
  expect(two).toEqual(one);
  expect(one!.findings.length).toBeGreaterThan(0);
});

/** What is wrong with findings that must hold together whatever was read; nothing, if all is well. */
function faultsOf(findings: readonly Finding[]): string[] {
  const faults: string[] = [];
  const open = new Set<string>();
  const seen = new Set<string>();
  let lastMs = 0;
  for (const { atMs, change, excursionId, startedAtMs } of findings) {
    const fault = (what: string) => faults.push(`${change} ${excursionId} at ${atMs}: ${what}`);
    if (atMs < lastMs) fault(`told after one of ${lastMs}`);
    if (!Number.isInteger(atMs) || !Number.isInteger(startedAtMs))
      fault("in parts of a millisecond");
    if (startedAtMs > atMs) fault(`starts later, at ${startedAtMs}`);
    if (change === "opened" && seen.has(excursionId)) fault("opened twice");
    if (change !== "opened" && !open.has(excursionId)) fault("is not open");
    lastMs = atMs;
    seen.add(excursionId);
    if (change === "ended") open.delete(excursionId);
    else open.add(excursionId);
  }
  return faults;
}

/** Where a value is not plain JSON: NaN, an infinity, undefined, a class. */
function unplain(value: unknown, path = "state"): string[] {
  if (value === null || typeof value === "string" || typeof value === "boolean") return [];
  if (typeof value === "number") return Number.isFinite(value) ? [] : [`${path} is ${value}`];
  if (typeof value !== "object") return [`${path} is ${typeof value}`];
  return Object.entries(value).flatMap(([key, inner]) => unplain(inner, `${path}.${key}`));
}

test("findings come in order of time, and what is raised or ended was opened", () => {
  expect(faultsOf(expected)).toEqual([]);
});

test("a late, a repeated and an unclaimed reading leave the state as it was", () => {
  const { state } = judge(readings.slice(0, 3_000).map(asReading), site);
  const late = { ...readings[1_000]!, temperatureC: 40 };
  for (const reading of [late, readings[2_999]!, { ...late, probeId: "nobody", takenAtMs: 9e12 }])
    expect(stepJudge(state, asReading(reading), site)).toEqual({ state, findings: [] });
  expect(stepJudge(state, asTick(state.nowMs - 1), site)).toEqual({ state, findings: [] });
});

test("a step does not touch the state it was given", () => {
  const { state } = judge(readings.slice(0, 3_000).map(asReading), site);
  const before = JSON.stringify(state);
  judge(readings.slice(3_000, 3_500).map(asReading), site, (s) => (s.nowMs === 0 ? state : s));
  expect(JSON.stringify(state)).toBe(before);
});

/** What an air probe said in the hour from the start on, each minute. */
const spokenForAnHour = (): JudgeEvent[] =>
  Array.from({ length: 60 }, (_, i) =>
    asReading({
      probeId: "air-1",
      takenAtMs: START_MS + i * MINUTE_MS,
      temperatureC: 2,
      humidityPct: null,
    }),
  );

test("a stretch in which nobody listened counts for no silence, and is no time lost to it either", () => {
  const quiet = siteOf([["air-1", "air"]]);
  const spoken = spokenForAnHour();
  const lastMs = START_MS + 59 * MINUTE_MS;
  const told = (events: readonly JudgeEvent[]) =>
    judge([...spoken, ...events], quiet).findings.map(({ atMs }) => (atMs - lastMs) / MINUTE_MS);
  const [limitMin] = told([asTick(lastMs + HOUR_MS)]);
  const deaf: JudgeEvent = {
    kind: "deaf",
    fromMs: lastMs + 2 * MINUTE_MS,
    atMs: lastMs + 42 * MINUTE_MS,
  };
  expect(told([deaf, asTick(lastMs + 2 * HOUR_MS)])).toEqual([limitMin! + 40]);
  // What was heard since is not to be waited for again.
  const before: JudgeEvent = { kind: "deaf", fromMs: lastMs - HOUR_MS, atMs: lastMs };
  expect(told([before, asTick(lastMs + HOUR_MS)])).toEqual([limitMin]);
});

test("a probe first heard by what it kept back of a time when nobody listened was not silent since", () => {
  const quiet = siteOf([["air-1", "air"]]);
  const kept = spokenForAnHour();
  const begunMs = START_MS + DAY_MS;
  const deaf: JudgeEvent = { kind: "deaf", fromMs: 0, atMs: begunMs };
  const told = (toMs: number) =>
    judge([deaf, ...kept, asTick(toMs)], quiet).findings.map(({ cause }) => cause);
  expect(told(begunMs + 3 * MINUTE_MS)).toEqual([]);
  expect(told(begunMs + HOUR_MS)).toEqual(["probe-mute"]);
});

test("the state is plain JSON at every turn", () => {
  expect(unplain(beginJudge(site))).toEqual([]);
  let n = 0;
  judge(readings.map(asReading), site, (state) => {
    if (n++ % 997 === 0) {
      expect(unplain(state)).toEqual([]);
      expect(JSON.parse(JSON.stringify(state))).toEqual(state);
    }
    return state;
  });
});

test("after a month the state of a chamber is still under 28 kB", () => {
  const { state } = judgeCourse(liveCourse({ days: 31, seed: 5 }));
  expect(unplain(state)).toEqual([]);
  expect(JSON.stringify(state).length).toBeLessThan(28_000);
});

describe("whatever is read, even nonsense,", () => {
  /** Probes that jump, stop, come back, leave out quantities and speak at any distance. */
  function talkNonsense(random: Seeded, places: Site): JudgeEvent[] {
    let atMs = START_MS;
    let airC = 2;
    return Array.from({ length: 1_500 }, (): JudgeEvent => {
      const gap = draw(random);
      atMs += Math.floor(
        gap < 0.9
          ? drawBetween(random, 1, 90 * SECOND_MS)
          : gap < 0.99
            ? drawBetween(random, 0, 40 * MINUTE_MS)
            : drawBetween(random, 0, 3 * DAY_MS),
      );
      if (draw(random) < 0.1) return asTick(atMs);
      if (draw(random) < 0.03) airC = drawBetween(random, -30, 45);
      airC += drawBetween(random, -0.6, 0.6) + 0.02 * (2.5 - airC);
      const humidityPct = draw(random) < 0.2 ? null : drawBetween(random, 0, 100);
      const temperatureC = draw(random) < 0.1 && humidityPct !== null ? null : airC;
      const probeId = drawOne(random, places.probes).id;
      return asReading({ probeId, takenAtMs: atMs, temperatureC, humidityPct });
    });
  }

  const nonsense = siteOf([
    ["air-1", "air"],
    ["air-2", "air"],
    ["box-1", "box"],
    ["wall-1", "wall"],
    ["room-1", "room"],
  ]);

  test.each(Array.from({ length: 12 }, (_, i) => i + 1))(
    "findings are in order and the state plain (seed %s)",
    (seed) => {
      const events = talkNonsense(seeded(seed, "nonsense"), nonsense);
      const { state, findings } = judge(events, nonsense);
      expect(faultsOf(findings)).toEqual([]);
      expect(unplain(state)).toEqual([]);
      expect(unplain(findings, "findings")).toEqual([]);
      expect(JSON.stringify(state).length).toBeLessThan(28_000);
      const restarted = judge(events, nonsense, (s) => JSON.parse(JSON.stringify(s)));
      expect(restarted.findings).toEqual(findings);
    },
  );
});

describe("a state taken up on a changed site", () => {
  const story = () => judge(readings.slice(0, 4_000).map(asReading), site).state;

  test("keeps what it knows of probes and chambers that are still there", () => {
    const turned: Site = {
      ...site,
      chambers: [...site.chambers].reverse(),
      probes: [...site.probes].reverse(),
    };
    const adopted = adoptJudge(story(), turned);
    expect(adopted.chambers).toEqual([...story().chambers].reverse());
    expect(adopted.hearings).toEqual([...story().hearings].reverse());
    const rest = readings.slice(4_000).map(asReading);
    let state = adopted;
    const findings = rest.flatMap((event) => {
      const step = stepJudge(state, event, turned);
      state = step.state;
      return step.findings;
    });
    const later = new Set(findings.map((f) => `${f.atMs} ${f.excursionId} ${f.change}`));
    const missing = expected
      .filter((f) => f.atMs > adopted.nowMs + MINUTE_MS)
      .map((f) => `${f.atMs} ${f.excursionId} ${f.change}`)
      .filter((told) => !later.has(told));
    expect(missing).toEqual([]);
  });

  test("forgets a chamber that is gone and begins with one that is new", () => {
    const moved: Site = {
      ...site,
      chambers: [site.chambers[0]!, { ...site.chambers[1]!, id: "cellar" }],
      probes: [
        ...site.probes.filter((p) => p.chamberId === "shed"),
        { id: "cellar-air", chamberId: "cellar", place: "air", intervalMs: MINUTE_MS },
      ],
    };
    const adopted = adoptJudge(story(), moved);
    expect(adopted.chambers.map((c) => c.chamberId)).toEqual(["shed", "cellar"]);
    expect(adopted.hearings.map((h) => h.probeId)).toEqual(["shed-air", "shed-box", "cellar-air"]);
    expect(adopted.chambers[1]!.exposure).toBeNull();
    expect(adopted.gathered.every((r) => r.probeId.startsWith("shed"))).toBe(true);
  });
});
