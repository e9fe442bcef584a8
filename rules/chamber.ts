import type { Finding } from "../shared/excursion.js";
import type { Chamber } from "../shared/site.js";
import { DAY_MS, MINUTE_MS } from "../shared/time.js";
import { type AirNews, stepAirWatch } from "./air-watch.js";
import { type ChamberState, warmsOf } from "./chamber-state.js";
import { type ColdAir, stepChill } from "./chill.js";
import { followAir, freshBoxC, hearBox } from "./cocoon.js";
import { stepCold } from "./cold-side.js";
import { SURE_TURNS, sunkC } from "./cycle.js";
import { addExposure, beginExposure } from "./exposure.js";
import { gather, gatherWall } from "./gathering.js";
import { stepHeat } from "./heat-side.js";
import { vapourPressureHpa } from "./humid-air.js";
import { airHumidity, type HeardHumidity, hearHumidity, keepsUp } from "./humidity-alone.js";
import { feelLane, type Present } from "./lane.js";
import { type Heard, leadAir, shortestFreshMs } from "./lead-air.js";
import { learn, useLearned } from "./learning.js";
import { seenWithin } from "./mute.js";
import { sawAgain } from "./saw-again.js";
import { type Slow, stepSlow } from "./slow.js";
import { lastDone } from "./tended.js";
import { endAsking } from "./unseen.js";
import { stepWarmth } from "./warmth.js";
import { noteStirs } from "./wet-spells.js";

/** What the probes of a chamber said in one moment, ordered by time and then by probe. */
export type ToldInMoment = Readonly<{
  heard: readonly Heard[];
  humidity: readonly HeardHumidity[];
}>;

/** No compressor is missed below so much above the band then, K; our choice. */
const COLD_SPARE_C = 1;
/** So long after a cold spell the thermostat's usual start is not relied on; our choice. */
const COLD_LINGERS_MS = 2 * DAY_MS;
/** Time between two readings that always counts as seen; a slow probe sees more by its interval. */
const SEEN_MS = 30 * MINUTE_MS;

type Step = Readonly<{ state: ChamberState; findings: readonly Finding[] }>;

/**
 * Move one chamber on by a moment.
 *
 * @param told what its probes said in the moment, ordered by time and then by probe
 * @param atMs the end of the moment, at which findings are told
 * @param timezone IANA name of the site's zone, whose days are those of the drying
 */
export function stepChamber(
  state: ChamberState,
  { heard, humidity }: ToldInMoment,
  atMs: number,
  chamber: Chamber,
  timezone: string,
): Step {
  let { leadId, leadUntilMs, watch, cocoon, learning, airC, humidityPct, roomC, roomUntilMs } =
    state;
  let news = NO_NEWS;
  let airHpa: number | null = null;
  let seesCocoons = false;
  const airs = leadAir(state, heard);
  const alone =
    humidity.length === 0 ? state.alone : hearHumidity(state.alone, humidity, warmsOf(state, airs));
  for (const air of airs) {
    seesCocoons = true;
    const beside = air.humidityPct === null ? airHumidity(alone, atMs) : null;
    airHpa =
      air.humidityPct === null
        ? (beside?.hpa ?? null)
        : vapourPressureHpa(air.temperatureC, air.humidityPct);
    const isOfNow = beside === null || keepsUp(beside, air.freshMs);
    const sample = { atMs: air.atMs, airC: air.temperatureC, hpa: isOfNow ? airHpa : null };
    const wasCold = state.cold !== null || atMs - state.coldUntilMs < COLD_LINGERS_MS;
    const step = stepAirWatch(
      watch,
      sample,
      wasCold ? chamber.bandC.high + COLD_SPARE_C : undefined,
    );
    if (step.news.length > 0) news = [...news, ...step.news];
    watch = step.watch;
    cocoon = followAir(cocoon, air.temperatureC, air.atMs, chamber, learning.cocoonLagMs);
    leadId = air.probeId;
    leadUntilMs = air.atMs + air.freshMs;
    airC = air.temperatureC;
    humidityPct = air.humidityPct ?? beside?.humidityPct ?? null;
  }
  for (const value of heard) {
    if (value.place === "box") {
      cocoon = hearBox(cocoon, value, chamber);
      seesCocoons = true;
    }
    if (value.place !== "room") continue;
    roomC = value.temperatureC;
    roomUntilMs = value.atMs + value.freshMs;
  }
  if (!seesCocoons) {
    const gathering = gatherWall(state.gathering, atMs, heard);
    return { state: { ...state, roomC, roomUntilMs, gathering, alone }, findings: NONE };
  }
  // Without any air to pair it with, such a probe was paired with the cocoons.
  if (airs.length === 0 && leadUntilMs < atMs) airHpa = airHumidity(alone, atMs)?.hpa ?? null;
  if (airC !== null && leadUntilMs >= atMs)
    learning = learn(learning, {
      atMs,
      airC,
      boxC: freshBoxC(cocoon, atMs),
      roomC: roomUntilMs >= atMs ? roomC : null,
      isOff: watch.told === "cooling-lost",
    });
  const { chamberId, exposure, warmth, chill, heat, cold } = state;
  // Written out, here and below: a spread of so many fields costs more than all that is judged.
  const told: ChamberState = {
    chamberId,
    leadId,
    leadUntilMs,
    watch,
    cocoon,
    exposure,
    warmth,
    chill,
    heat,
    cold,
    airC,
    humidityPct,
    roomC,
    roomUntilMs,
    coldUntilMs: state.coldUntilMs,
    toldColdC: state.toldColdC,
    tended: state.tended,
    gathering: state.gathering,
    slow: state.slow,
    learning,
    unseen: state.unseen,
    alone,
  };
  const after = sawAgain(told, state.airC, heard, atMs, chamber);
  const step = feel(after.state, news, { heard, airHpa, atMs }, chamber, timezone);
  if (after.findings.length === 0) return step;
  return { state: step.state, findings: [...after.findings, ...step.findings] };
}

type Moment = Readonly<{ heard: readonly Heard[]; airHpa: number | null; atMs: number }>;

const NO_NEWS: readonly AirNews[] = [];

/** What the moment means for the cocoons. */
function feel(
  state: ChamberState,
  news: readonly AirNews[],
  { heard, airHpa, atMs }: Moment,
  chamber: Chamber,
  timezone: string,
): Step {
  const { cocoonC } = state.cocoon;
  if (cocoonC === null) return { state, findings: NONE };
  const band = chamber.bandC;
  const air = lastAirOf(state, atMs);
  const freshMs = shortestFreshMs(heard);
  const exposure =
    state.exposure === null
      ? beginExposure(atMs, cocoonC)
      : addExposure(state.exposure, atMs, cocoonC, band, seenWithin(freshMs, SEEN_MS));
  const { chamberId, leadId, leadUntilMs, watch, cocoon, airC, humidityPct } = state;
  const felt: ChamberState = {
    chamberId,
    leadId,
    leadUntilMs,
    watch,
    cocoon,
    exposure,
    warmth: stepWarmth(state.warmth, cocoonC, band, atMs, air?.meanC ?? null),
    chill: stepChill(state.chill, cocoonC, air, band, atMs),
    heat: state.heat === null ? null : feelLane(state.heat, cocoonC),
    cold: state.cold === null ? null : feelLane(state.cold, cocoonC),
    airC,
    humidityPct,
    roomC: state.roomC,
    roomUntilMs: state.roomUntilMs,
    coldUntilMs: state.cold === null ? state.coldUntilMs : atMs,
    toldColdC:
      state.cold === null || state.cold.urgency === "note" ? state.toldColdC : state.cold.coldestC,
    tended: state.tended,
    gathering: gather(state.gathering, {
      atMs,
      cocoonC,
      airHpa,
      heard,
      freshMs,
      alone: state.alone,
    }),
    slow: news.length === 0 ? state.slow : stirred(state.slow, news),
    learning: state.learning,
    unseen: state.unseen,
    alone: state.alone,
  };
  const present = presentOf(felt, cocoonC, atMs);
  const heat = stepHeat(felt, news, present, chamber);
  const cold = stepCold(felt, present, chamber);
  const none = heat.findings.length + cold.findings.length === 0;
  const findings = none ? NONE : [...heat.findings, ...cold.findings];
  const isSame = heat.lane === felt.heat && cold.lane === felt.cold;
  const next = isSame ? felt : { ...felt, heat: heat.lane, cold: cold.lane };
  const isOver = state.gathering.slotEndMs !== felt.gathering.slotEndMs;
  if (!isOver || state.gathering.slotEndMs === 0) return { state: next, findings };
  const slow = stepSlow(felt.slow, state.gathering, present, state.tended, chamber, timezone);
  const asked = endAsking(state.unseen, lastDone(state.tended, "inspected", atMs), present);
  const learning = useLearned(state.learning, chamber);
  return {
    state: { ...next, slow: slow.slow, learning, unseen: asked.unseen },
    findings: [...findings, ...slow.findings, ...asked.findings],
  };
}

const NONE: readonly Finding[] = [];

function stirred(slow: Slow, news: readonly AirNews[]): Slow {
  const wetSpells = noteStirs(slow.wetSpells, news);
  return wetSpells === slow.wetSpells ? slow : { ...slow, wetSpells };
}

/** A chamber's present, as findings about it carry it. */
export function presentOf(state: ChamberState, cocoonC: number, atMs: number): Present {
  const { chamberId, airC, humidityPct, exposure, slow } = state;
  const { water, chill } = slow;
  const chillDays = chill?.days ?? null;
  return { atMs, chamberId, cocoonC, airC, humidityPct, exposure, water, chillDays };
}

function lastAirOf(state: ChamberState, atMs: number): ColdAir | null {
  const { recent, cycle } = state.watch;
  if (state.airC === null || recent.length === 0) return null;
  let sum = 0;
  for (const sample of recent) sum += sample.airC;
  const { habit } = cycle;
  const isSure = habit !== null && habit.turns >= SURE_TURNS;
  const isMeasured = freshBoxC(state.cocoon, atMs) !== null;
  return {
    nowC: state.airC,
    meanC: sum / recent.length,
    usualLowC: isSure ? habit.bottomC : null,
    steadyLowC: isSure ? habit.usualBottomC : null,
    sunkC: sunkC(cycle),
    followedMs: isMeasured ? Number.POSITIVE_INFINITY : atMs - state.cocoon.sinceMs,
  };
}
