import type { Finding } from "../shared/excursion.js";
import type { Chamber } from "../shared/site.js";
import { DAY_MS, MINUTE_MS } from "../shared/time.js";
import { type AirNews, type AirWatch, beginAirWatch, stepAirWatch } from "./air-watch.js";
import { type Chill, type ColdAir, NOT_CHILLED, stepChill } from "./chill.js";
import { beginCocoon, type CocoonState, followAir, freshBoxC, hearBox } from "./cocoon.js";
import { stepCold } from "./cold-side.js";
import { SURE_TURNS, sunkC } from "./cycle.js";
import { addExposure, beginExposure, type Exposure } from "./exposure.js";
import { type Gathering, gather, gatherWall, NOTHING_GATHERED } from "./gathering.js";
import { stepHeat } from "./heat-side.js";
import { vapourPressureHpa } from "./humid-air.js";
import { feelLane, type Lane, type Present } from "./lane.js";
import { type Heard, leadAir } from "./lead-air.js";
import { BEGIN_LEARNING, type Learning, learn, useLearned } from "./learning.js";
import { sawAgain } from "./saw-again.js";
import { BEGIN_SLOW, type Slow, stepSlow } from "./slow.js";
import { lastDone, type Tended, UNTENDED } from "./tended.js";
import { ALL_SEEN, endAsking, type Unseen } from "./unseen.js";
import { AT_EASE, stepWarmth, type Warmth } from "./warmth.js";

/** All that is remembered of one chamber. */
export type ChamberState = Readonly<{
  chamberId: string;
  /** The air probe whose course is followed; another takes over only when it falls silent. */
  leadId: string | null;
  leadUntilMs: number;
  watch: AirWatch;
  cocoon: CocoonState;
  exposure: Exposure | null;
  warmth: Warmth;
  chill: Chill;
  heat: Lane | null;
  cold: Lane | null;
  airC: number | null;
  humidityPct: number | null;
  /** The room, and how long that stands for the present. */
  roomC: number | null;
  roomUntilMs: number;
  /** When the last cold excursion was still open, ms; 0 before the first. */
  coldUntilMs: number;
  tended: Tended;
  gathering: Gathering;
  slow: Slow;
  learning: Learning;
  unseen: Unseen;
}>;

export function beginChamber(chamberId: string): ChamberState {
  return {
    chamberId,
    leadId: null,
    leadUntilMs: 0,
    watch: beginAirWatch(),
    cocoon: beginCocoon(),
    exposure: null,
    warmth: AT_EASE,
    chill: NOT_CHILLED,
    heat: null,
    cold: null,
    airC: null,
    humidityPct: null,
    roomC: null,
    roomUntilMs: 0,
    coldUntilMs: 0,
    tended: UNTENDED,
    gathering: NOTHING_GATHERED,
    slow: BEGIN_SLOW,
    learning: BEGIN_LEARNING,
    unseen: ALL_SEEN,
  };
}

/** No compressor is missed below so much above the band then, K; our choice. */
const COLD_SPARE_C = 1;
/** So long after a cold spell the thermostat's usual start is not relied on; our choice. */
const COLD_LINGERS_MS = 2 * DAY_MS;
/** Time between two readings that still counts as seen; a longer silence is dark. */
const SEEN_MS = 30 * MINUTE_MS;

type Step = Readonly<{ state: ChamberState; findings: readonly Finding[] }>;

/**
 * Move one chamber on by a moment.
 *
 * @param heard what its probes said in the moment, ordered by time and then by probe
 * @param atMs the end of the moment, at which findings are told
 * @param timezone IANA name of the site's zone, whose days are those of the drying
 */
export function stepChamber(
  state: ChamberState,
  heard: readonly Heard[],
  atMs: number,
  chamber: Chamber,
  timezone: string,
): Step {
  let { leadId, leadUntilMs, watch, cocoon, learning, airC, humidityPct, roomC, roomUntilMs } =
    state;
  let news = NO_NEWS;
  let airHpa: number | null = null;
  let seesCocoons = false;
  for (const air of leadAir(state, heard)) {
    seesCocoons = true;
    airHpa = air.humidityPct === null ? null : vapourPressureHpa(air.temperatureC, air.humidityPct);
    const sample = { atMs: air.atMs, airC: air.temperatureC, hpa: airHpa };
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
    humidityPct = air.humidityPct;
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
    return { state: { ...state, roomC, roomUntilMs, gathering }, findings: NONE };
  }
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
    tended: state.tended,
    gathering: state.gathering,
    slow: state.slow,
    learning,
    unseen: state.unseen,
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
  const air = lastAirOf(state);
  const exposure =
    state.exposure === null
      ? beginExposure(atMs, cocoonC)
      : addExposure(state.exposure, atMs, cocoonC, band, SEEN_MS);
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
    tended: state.tended,
    gathering: gather(state.gathering, { atMs, cocoonC, airHpa, heard }),
    slow: state.slow,
    learning: state.learning,
    unseen: state.unseen,
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
  const slow = stepSlow(state.slow, state.gathering, present, state.tended, chamber, timezone);
  const asked = endAsking(state.unseen, lastDone(state.tended, "inspected", atMs), present);
  const learning = useLearned(state.learning, chamber);
  return {
    state: { ...next, slow: slow.slow, learning, unseen: asked.unseen },
    findings: [...findings, ...slow.findings, ...asked.findings],
  };
}

const NONE: readonly Finding[] = [];

/** A chamber's present, as findings about it carry it. */
export function presentOf(state: ChamberState, cocoonC: number, atMs: number): Present {
  const { chamberId, airC, humidityPct, exposure, slow } = state;
  const { water, chill } = slow;
  const chillDays = chill?.days ?? null;
  return { atMs, chamberId, cocoonC, airC, humidityPct, exposure, water, chillDays };
}

function lastAirOf(state: ChamberState): ColdAir | null {
  const { recent, cycle } = state.watch;
  if (state.airC === null || recent.length === 0) return null;
  let sum = 0;
  for (const sample of recent) sum += sample.airC;
  const { habit } = cycle;
  const usualLowC = habit === null || habit.turns < SURE_TURNS ? null : habit.bottomC;
  return { nowC: state.airC, meanC: sum / recent.length, usualLowC, sunkC: sunkC(cycle) };
}
