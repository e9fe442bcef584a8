import { beginJudge, type JudgeEvent, type JudgeState, stepJudge } from "../../rules/judge.js";
import type { Fridge } from "../../sensors/simulated/fridge.js";
import { openDaily } from "../../sensors/simulated/habits.js";
import { makeFridge } from "../../sensors/simulated/make.js";
import { NAMED_SKETCHES } from "../../sensors/simulated/named-fridges.js";
import { outfitChamber } from "../../sensors/simulated/outfit.js";
import type { Happening } from "../../sensors/simulated/script.js";
import { seeded } from "../../sensors/simulated/seeded.js";
import { simulate, type Truth } from "../../sensors/simulated/simulation.js";
import type { Finding } from "../../shared/excursion.js";
import type { Reading } from "../../shared/reading.js";
import type { Place, Site } from "../../shared/site.js";
import { DAY_MS, HOUR_MS, MINUTE_MS } from "../../shared/time.js";

/** When every course begins: a midnight in autumn. */
export const START_MS = Date.UTC(2025, 10, 1);
export const dayMs = (days: number): number => START_MS + days * DAY_MS;
const MIDDLING: Fridge = makeFridge(NAMED_SKETCHES[0]!);
const BAND = { low: 1.1, high: 3.3 };

export type Course = Readonly<{
  site: Site;
  readings: readonly Reading[];
  /** What really was at the air probe's readings. */
  truths: readonly Readonly<{ atMs: number; truth: Truth }>[];
  endMs: number;
}>;

export type Asked = Readonly<{
  days: number;
  seed: number;
  fridge?: Fridge;
  humidity?: boolean;
  intervalMs?: number;
  script?: readonly Happening[];
}>;

/** Live so many days with an air and a box probe, six ordinary openings a day and defrosts. */
export function liveCourse(asked: Asked): Course {
  const { days, seed, fridge = MIDDLING, humidity = true, intervalMs = MINUTE_MS } = asked;
  const script = asked.script ?? [];
  const probes = outfitChamber(fridge, seed, "shed", { intervalMs, humidity, box: true });
  const endMs = dayMs(days);
  // Whoever comes to a door left ajar would shut it, so nobody does.
  const ajar = script.filter((h) => h.kind === "door");
  const openings = openDaily(seeded(seed, "openings"), 6, START_MS, endMs).filter((o) =>
    ajar.every((h) => o.endMs < h.startMs || o.startMs > h.endMs),
  );
  const plan = { fridge, seed, startMs: START_MS, endMs, probes, script: [...openings, ...script] };
  const readings: Reading[] = [];
  const truths: { atMs: number; truth: Truth }[] = [];
  for (const { reading, arrived, truth } of simulate(plan)) {
    if (arrived) readings.push(reading);
    if (reading.probeId === "shed-air") truths.push({ atMs: reading.takenAtMs, truth });
  }
  const places = probes.map((p) => [p.id, p.place] as const);
  return { site: siteOf(places, intervalMs), readings, truths, endMs };
}

/** The site of one chamber, "shed", with these probes. */
export function siteOf(
  probes: readonly (readonly [id: string, place: Place])[],
  intervalMs = MINUTE_MS,
): Site {
  const chamber = {
    id: "shed",
    species: "osmia-bicornis",
    bandC: BAND,
    humidityBandPct: { low: 60, high: 70 },
    cocoonLagMs: null,
  };
  return {
    name: "Quillmere shed",
    timezone: "Europe/London",
    chambers: [chamber],
    probes: probes.map(([id, place]) => ({ id, chamberId: "shed", place, intervalMs })),
  };
}

export const asReading = (reading: Reading): JudgeEvent => ({ kind: "reading", reading });
export const asTick = (atMs: number): JudgeEvent => ({ kind: "tick", atMs });

export type Judged = Readonly<{ state: JudgeState; findings: readonly Finding[] }>;

/** Judge events from nothing. `between` may put another state in a state's place. */
export function judge(
  events: Iterable<JudgeEvent>,
  site: Site,
  between: (state: JudgeState) => JudgeState = (state) => state,
): Judged {
  let state = beginJudge(site);
  const findings: Finding[] = [];
  for (const event of events) {
    const step = stepJudge(between(state), event, site);
    state = step.state;
    for (const finding of step.findings) findings.push(finding);
  }
  return { state, findings };
}

/** Judge a course's readings, with a last tick an hour past its end. */
export function judgeCourse({ readings, site, endMs }: Course): Judged {
  return judge([...readings.map(asReading), asTick(endMs + HOUR_MS)], site);
}

/** Those that would be a letter: they ask the keeper to come. */
export const lettersOf = (findings: readonly Finding[]): readonly Finding[] =>
  findings.filter((f) => f.urgency !== "note");
