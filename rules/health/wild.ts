import { type FaultValue, humidityFault, temperatureFault } from "../../shared/fault-value.js";
import type { Reading } from "../../shared/reading.js";
import { HOUR_MS, MINUTE_MS } from "../../shared/time.js";
import type { ProbeHealth, Wild } from "./health.js";
import { numberWords } from "./number-words.js";

/**
 * What air or a box of cocoons hardly does from one reading to the next, K, where readings are
 * close together and where they are not; our choice. A door thrown wide open lifts the air of the
 * simulated fridges by up to 11 K within a minute.
 */
const JUMP_K = 15;
const JUMP_SLOW_K = 25;
const SLOW_MS = 2 * MINUTE_MS;
/** After a longer silence anything may have happened; our choice. */
const JUMP_GAP_MS = 10 * MINUTE_MS;
/** Without another bad value for so long, it is over; our choice. */
const CALM_MS = HOUR_MS;

/** What is left of a reading, and what was wrong with it. */
export type Sifted = Readonly<{
  temperatureC: number | null;
  humidityPct: number | null;
  /** A temperature held back until the next one. */
  doubtC: number | null;
  /** Why it is no measurement, one clause each; null where nothing is wrong. */
  why: string | null;
}>;

/** Whether nothing about a reading needs a closer look, as about nearly all. */
export function isPlain({ goodC, doubtC, wild }: ProbeHealth, reading: Reading): boolean {
  const { temperatureC, humidityPct } = reading;
  if (wild !== null || doubtC !== null || goodC === null || temperatureC === null) return false;
  const isNear =
    Math.abs(temperatureC - goodC) <= JUMP_K && temperatureFault(temperatureC) === null;
  return isNear && (humidityPct === null || humidityFault(humidityPct) === null);
}

/**
 * Take out of a reading what cannot have been measured.
 *
 * A temperature that jumps is held back: if the next one is nearer to it than to what was before,
 * that one is let through, and something did happen; else the jump was none.
 *
 * @param intervalMs how often the probe speaks
 */
export function sift(health: ProbeHealth, reading: Reading, intervalMs: number): Sifted {
  const { temperatureC, humidityPct, takenAtMs } = reading;
  const tooDry = humidityPct === null ? null : humidityFault(humidityPct);
  const pct = tooDry === null ? humidityPct : null;
  const dampWhy = tooDry === null ? null : faultWords(tooDry, humidityPct!);
  const { doubtC } = health;
  if (temperatureC === null) return { temperatureC, humidityPct: pct, doubtC, why: dampWhy };
  const fault = temperatureFault(temperatureC);
  if (fault !== null)
    return { temperatureC: null, humidityPct: pct, doubtC, why: faultWords(fault, temperatureC) };
  const { goodC, goodAtMs } = health;
  const jumpK = intervalMs > SLOW_MS ? JUMP_SLOW_K : JUMP_K;
  const isRecent = takenAtMs - goodAtMs <= Math.max(JUMP_GAP_MS, 3 * intervalMs);
  if (goodC === null || !isRecent || Math.abs(temperatureC - goodC) <= jumpK) {
    const why = doubtC === null || goodC === null || !isRecent ? dampWhy : jumpWords(goodC, doubtC);
    return { temperatureC, humidityPct: pct, doubtC: null, why };
  }
  if (doubtC !== null && Math.abs(temperatureC - doubtC) < Math.abs(temperatureC - goodC))
    return { temperatureC, humidityPct: pct, doubtC: null, why: dampWhy };
  const why = doubtC === null ? dampWhy : jumpWords(goodC, doubtC);
  return { temperatureC: null, humidityPct: pct, doubtC: temperatureC, why };
}

/** Count a bad value, or let it be over where there was none for long. */
export function countWild(wild: Wild | null, why: string | null, atMs: number): Wild | null {
  if (why === null) return wild === null || atMs - wild.lastMs < CALM_MS ? wild : null;
  if (wild === null || atMs - wild.lastMs >= CALM_MS)
    return { sinceMs: atMs, lastMs: atMs, count: 1, why };
  return { sinceMs: wild.sinceMs, lastMs: atMs, count: wild.count + 1, why };
}

function jumpWords(fromC: number, toC: number): string {
  return `${numberWords(toC)} °C between two readings near ${numberWords(fromC)} °C, which no air does`;
}

function faultWords(fault: FaultValue, value: number): string {
  switch (fault) {
    case "power-on":
      return "85.0 °C, which a DS18B20 holds after power-on until it has measured";
    case "bus-lost":
      return `${numberWords(value)} °C, which drivers of a DS18B20 give when nothing answers on its bus`;
    case "too-warm":
      return `${numberWords(value)} °C, warmer than any fridge or room; its unit may be set wrong`;
    case "too-cold":
      return `${numberWords(value)} °C, colder than any winter; its unit may be set wrong`;
    case "too-dry":
      return `${numberWords(value)} % humidity, drier than any air`;
    case "too-damp":
      return `${numberWords(value)} % humidity, more than air can hold`;
  }
}
