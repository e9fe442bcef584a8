import type { Finding } from "../../shared/excursion.js";
import type { Reading } from "../../shared/reading.js";
import type { Probe, Site } from "../../shared/site.js";
import { DAY_MS } from "../../shared/time.js";
import type { ChamberState } from "../chamber-state.js";
import { type Hearing, usualIntervalMs } from "../mute.js";
import { probeIndex } from "../probe-index.js";
import { comparePartings, type Parting } from "./drift.js";
import { beginHealth, type ProbeHealth } from "./health.js";
import { hearSameness } from "./stuck.js";
import { isWorthTelling, tellFaults } from "./tell-faults.js";
import { countWild, isPlain, sift } from "./wild.js";

/** How well each probe measures, one each in the order of the site's, and how pairs compare. */
export type Health = Readonly<{
  probes: readonly ProbeHealth[];
  partings: readonly Parting[];
}>;

export function beginHealths(site: Site): Health {
  return { probes: site.probes.map((p) => beginHealth(p.id)), partings: [] };
}

/** Fit what is remembered to a site whose probes have changed. */
export function adoptHealths(health: Health, site: Site): Health {
  const byProbe = new Map(health.probes.map((p) => [p.probeId, p]));
  const isThere = (id: string): boolean => probeIndex(site).has(id);
  return {
    probes: site.probes.map((p) => byProbe.get(p.id) ?? beginHealth(p.id)),
    // One that was told is ended on its next day, if the other probe is there to be told of.
    partings: health.partings.filter(
      ({ one, other, told }) => isThere(other) && (isThere(one) || told !== null),
    ),
  };
}

/** What of a moment may be judged. */
type Sieved = Readonly<{
  health: Health;
  /** The readings, without what cannot have been measured. */
  admitted: readonly Reading[];
  findings: readonly Finding[];
}>;

/** A day's mean needs so many readings. */
const DAY_LEAST = 12;

/**
 * Let through what can have been measured, and tell of probes that measure badly.
 *
 * @param gathered the readings of a moment, in order of time and then of probe
 * @param chambers as they were before it, for what findings say of the present
 */
export function sieve(
  before: Health,
  gathered: readonly Reading[],
  hearings: readonly Hearing[],
  atMs: number,
  site: Site,
  chambers: readonly ChamberState[],
): Sieved {
  const probes = before.probes.slice();
  let admitted: Reading[] | null = null;
  let turnsDay = false;
  let isOff = false;
  for (let i = 0; i < gathered.length; i++) {
    const reading = gathered[i]!;
    const index = probeIndex(site).get(reading.probeId)!;
    const probe = site.probes[index]!;
    const { wholeDay } = probes[index]!;
    const intervalMs = usualIntervalMs(hearings[index]!, probe);
    const left = hearValue(probes, index, reading, probe, intervalMs);
    const health = probes[index]!;
    turnsDay ||= health.wholeDay !== wholeDay;
    isOff ||= isWorthTelling(health, probe, intervalMs);
    if (left === reading && admitted === null) continue;
    admitted ??= gathered.slice(0, i);
    admitted.push(left);
  }
  const findings: Finding[] = [];
  if (isOff) tellFaults(probes, hearings, atMs, site, chambers, findings);
  let { partings } = before;
  if (turnsDay) {
    const parted = comparePartings(partings, probes, atMs, site, chambers);
    partings = parted.partings;
    findings.push(...parted.findings);
  }
  return { health: { probes, partings }, admitted: admitted ?? gathered, findings };
}

/** Hear one value of a probe. @returns what of it may be judged: itself where nothing is wrong */
function hearValue(
  probes: ProbeHealth[],
  index: number,
  reading: Reading,
  probe: Probe,
  intervalMs: number,
): Reading {
  const health = probes[index]!;
  const { takenAtMs: atMs } = reading;
  if (reading.temperatureC === null && reading.humidityPct === null) {
    probes[index] = outOfPlace(health, atMs);
    return reading;
  }
  let { temperatureC, humidityPct } = reading;
  let doubtC: number | null = null;
  let { wild } = health;
  if (!isPlain(health, reading)) {
    const sifted = sift(health, reading, intervalMs);
    ({ temperatureC, humidityPct, doubtC } = sifted);
    wild = countWild(wild, sifted.why, atMs);
  }
  if (temperatureC === null && humidityPct === null) {
    probes[index] = { ...health, doubtC, wild };
    return { ...reading, temperatureC, humidityPct };
  }
  const { goodC } = health;
  let { sameSinceMs, flatMs, calms, knownSinceMs, calm } = health;
  // A value that repeats the last one within its time is the most common there is.
  if (
    temperatureC !== health.saidC ||
    humidityPct !== health.saidPct ||
    atMs - health.saidAtMs > intervalMs
  )
    ({ sameSinceMs, flatMs, calms, knownSinceMs, calm } = hearSameness(
      health,
      temperatureC,
      humidityPct,
      atMs,
      probe.place,
      intervalMs,
    ));
  const stays = health.stuckTold !== null && sameSinceMs === health.stuckTold.sinceMs;
  const isGood = temperatureC !== null && !stays;
  const turns = atMs >= health.dayEndMs;
  const whole = turns && health.count >= DAY_LEAST;
  const day = Math.floor(health.dayEndMs / DAY_MS) - 1;
  // Written out: this runs for every reading.
  probes[index] = {
    probeId: health.probeId,
    goodC: isGood ? temperatureC : goodC,
    // A probe of humidity alone is not blind for want of a temperature.
    goodAtMs: isGood || (goodC === null && !stays) ? atMs : health.goodAtMs,
    doubtC,
    saidC: temperatureC,
    saidPct: humidityPct,
    saidAtMs: atMs,
    sameSinceMs,
    calm,
    flatMs,
    calms,
    knownSinceMs,
    wild,
    wildTold: health.wildTold,
    stuckTold: health.stuckTold,
    dayEndMs: turns ? (Math.floor(atMs / DAY_MS) + 1) * DAY_MS : health.dayEndMs,
    sumC: (turns ? 0 : health.sumC) + (isGood ? temperatureC! : 0),
    count: (turns ? 0 : health.count) + (isGood ? 1 : 0),
    wholeDay: whole ? day : health.wholeDay,
    meanC: whole ? health.sumC / health.count : health.meanC,
  };
  if (stays) return { ...reading, temperatureC: null, humidityPct: null };
  const isWhole = temperatureC === reading.temperatureC && humidityPct === reading.humidityPct;
  return isWhole ? reading : { ...reading, temperatureC, humidityPct };
}

/** A probe that is being checked says nothing of its chamber, and what it says teaches nothing. */
function outOfPlace(health: ProbeHealth, atMs: number): ProbeHealth {
  return {
    ...health,
    goodC: null,
    goodAtMs: atMs,
    doubtC: null,
    sameSinceMs: atMs,
    saidC: null,
    calm: null,
  };
}
