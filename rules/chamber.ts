import type { Finding } from "../shared/excursion.js";
import type { Chamber } from "../shared/site.js";
import { DAY_MS, MINUTE_MS } from "../shared/time.js";
import { type AirNews, type AirWatch, beginAirWatch, stepAirWatch } from "./air-watch.js";
import { type Chill, type ColdAir, NOT_CHILLED, stepChill } from "./chill.js";
import { beginCocoon, type CocoonState, followAir, hearBox } from "./cocoon.js";
import { stepCold } from "./cold-side.js";
import { SURE_TURNS } from "./cycle.js";
import { addExposure, beginExposure, type Exposure } from "./exposure.js";
import { stepHeat } from "./heat-side.js";
import { vapourPressureHpa } from "./humid-air.js";
import { feelLane, type Lane, type Present } from "./lane.js";
import { type Tended, UNTENDED } from "./tended.js";
import { AT_EASE, stepWarmth, type Warmth } from "./warmth.js";

/** One value heard from a probe of the chamber within a moment. */
export type Heard = Readonly<{
  probeId: string;
  place: "air" | "box" | "wall" | "room";
  atMs: number;
  temperatureC: number;
  humidityPct: number | null;
  /** How long the value stands for the present, ms. */
  freshMs: number;
}>;

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
  roomC: number | null;
  /** When the last cold excursion was still open, ms; 0 before the first. */
  coldUntilMs: number;
  tended: Tended;
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
    coldUntilMs: 0,
    tended: UNTENDED,
  };
}

/** No compressor is missed below so much above the band then, K; our choice. */
const COLD_SPARE_C = 1;
/** So long after a cold spell the thermostat's usual start is not relied on; our choice. */
const COLD_LINGERS_MS = 2 * DAY_MS;
/** Time between two readings that still counts as seen; a longer silence is dark. */
const SEEN_MS = 30 * MINUTE_MS;

/**
 * Move one chamber on by a moment.
 *
 * @param heard what its probes said in the moment, ordered by time and then by probe
 * @param atMs the end of the moment, at which findings are told
 */
export function stepChamber(
  state: ChamberState,
  heard: readonly Heard[],
  atMs: number,
  chamber: Chamber,
): { state: ChamberState; findings: readonly Finding[] } {
  let { leadId, leadUntilMs, watch, cocoon, airC, humidityPct, roomC } = state;
  let news = NO_NEWS;
  for (const air of leadAir(state, heard)) {
    const hpa =
      air.humidityPct === null ? null : vapourPressureHpa(air.temperatureC, air.humidityPct);
    const sample = { atMs: air.atMs, airC: air.temperatureC, hpa };
    const wasCold = state.cold !== null || atMs - state.coldUntilMs < COLD_LINGERS_MS;
    const step = stepAirWatch(
      watch,
      sample,
      wasCold ? chamber.bandC.high + COLD_SPARE_C : undefined,
    );
    if (step.news.length > 0) news = [...news, ...step.news];
    watch = step.watch;
    cocoon = followAir(cocoon, air.temperatureC, air.atMs, chamber);
    leadId = air.probeId;
    leadUntilMs = air.atMs + air.freshMs;
    airC = air.temperatureC;
    humidityPct = air.humidityPct;
  }
  for (const value of heard) {
    if (value.place === "room") roomC = value.temperatureC;
    if (value.place === "box") cocoon = hearBox(cocoon, value, chamber);
  }
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
    coldUntilMs: state.coldUntilMs,
    tended: state.tended,
  };
  return feel(told, news, atMs, chamber);
}

const NO_NEWS: readonly AirNews[] = [];

/** The air of the moment: the lead probe's values drawn together into one. */
function leadAir(state: ChamberState, heard: readonly Heard[]): readonly Heard[] {
  const airs = heard.filter((h) => h.place === "air");
  const newest = airs[airs.length - 1];
  if (newest === undefined) return airs;
  const keeps = state.leadId !== null && newest.atMs <= state.leadUntilMs;
  const leadId = keeps ? state.leadId : newest.probeId;
  const led = airs.every((a) => a.probeId === leadId)
    ? airs
    : airs.filter((a) => a.probeId === leadId);
  return led.length < 2 ? led : [meanOf(led)];
}

function meanOf(values: readonly Heard[]): Heard {
  const { probeId, place, freshMs } = values[0]!;
  const n = values.length;
  let atMs = 0;
  let temperatureC = 0;
  let humidityPct: number | null = 0;
  for (const value of values) {
    atMs += value.atMs / n;
    temperatureC += value.temperatureC / n;
    humidityPct =
      humidityPct === null || value.humidityPct === null
        ? null
        : humidityPct + value.humidityPct / n;
  }
  return { probeId, place, atMs: Math.round(atMs), temperatureC, humidityPct, freshMs };
}

/** What the moment means for the cocoons. */
function feel(
  state: ChamberState,
  news: readonly AirNews[],
  atMs: number,
  chamber: Chamber,
): { state: ChamberState; findings: readonly Finding[] } {
  const { cocoonC } = state.cocoon;
  if (cocoonC === null) return { state, findings: [] };
  const band = chamber.bandC;
  const exposure =
    state.exposure === null
      ? beginExposure(atMs, cocoonC)
      : addExposure(state.exposure, atMs, cocoonC, band, SEEN_MS);
  const { chamberId, leadId, leadUntilMs, watch, cocoon, airC, humidityPct, roomC } = state;
  const felt: ChamberState = {
    chamberId,
    leadId,
    leadUntilMs,
    watch,
    cocoon,
    exposure,
    warmth: stepWarmth(state.warmth, cocoonC, band, atMs),
    chill: stepChill(state.chill, cocoonC, coldAirOf(state), band, atMs),
    heat: state.heat === null ? null : feelLane(state.heat, cocoonC),
    cold: state.cold === null ? null : feelLane(state.cold, cocoonC),
    airC,
    humidityPct,
    roomC,
    coldUntilMs: state.cold === null ? state.coldUntilMs : atMs,
    tended: state.tended,
  };
  const present: Present = { atMs, chamberId, cocoonC, airC, humidityPct, exposure };
  const heat = stepHeat(felt, news, present, chamber);
  const cold = stepCold(felt, present, chamber);
  const none = heat.findings.length + cold.findings.length === 0;
  const findings = none ? NONE : [...heat.findings, ...cold.findings];
  if (heat.lane === felt.heat && cold.lane === felt.cold) return { state: felt, findings };
  return { state: { ...felt, heat: heat.lane, cold: cold.lane }, findings };
}

const NONE: readonly Finding[] = [];

function coldAirOf(state: ChamberState): ColdAir | null {
  const { recent, cycle } = state.watch;
  if (state.airC === null || recent.length === 0) return null;
  let sum = 0;
  for (const sample of recent) sum += sample.airC;
  const { habit } = cycle;
  const usualLowC = habit === null || habit.turns < SURE_TURNS ? null : habit.bottomC;
  return { nowC: state.airC, meanC: sum / recent.length, usualLowC };
}
