import type { Reading } from "../../../../shared/reading.js";
import { SECOND_MS } from "../../../../shared/time.js";
import { beginChance, type Chance, drawBetween, drawNormal, drawUnit, within } from "./chance.js";
import { wander } from "./room.js";
import type { Sensor } from "./sensor.js";
import type { Simulation } from "./simulation.js";

/** What a chamber's sensor publishes, and how often. */
export type Broadcast = Readonly<{
  probeId: string;
  startMs: number;
  intervalS: number;
  humidity: boolean;
}>;

/** The sensor's radio and its errors as they are now. Changed in place. */
export type Transmitter = {
  readonly broadcast: Broadcast;
  readonly noise: Chance;
  readonly losses: Chance;
  readonly phaseS: number;
  spoken: number;
  dueS: number;
  wanderK: number;
  lost: boolean;
};

/** Share of packets lost; our choice. */
const LOST_SHARE = 0.02;
/** The wander of a sensor forgets with this time, s; our choice. */
const WANDER_LASTS_S = 5_400;
/** Eddies at an open door, K, full from a gap of so many mm; our choice. */
const EDDIES_K = 0.15;
const EDDIES_FULL_MM = 100;

/** Its first reading is due within a minute of the winter's start. */
export function beginTransmitter(seed: number, broadcast: Broadcast): Transmitter {
  const noise = beginChance(seed, "noise");
  const phaseS = Math.floor(drawBetween(noise, 1, 55));
  const losses = beginChance(seed, "loss");
  return { broadcast, noise, losses, phaseS, spoken: 0, dueS: phaseS, wanderK: 0, lost: false };
}

/** The reading due now; null where its packet is lost. Sets when the next one is due. */
export function speak(now: Transmitter, simulation: Simulation, atS: number): Reading | null {
  const { noise, broadcast } = now;
  const { sensor } = simulation.fridge;
  const { probeId, startMs, intervalS, humidity } = broadcast;
  const spokenS = now.dueS;
  now.spoken++;
  const nextS = intervalS * now.spoken + now.phaseS + sensor.jitterS * drawNormal(noise);
  now.dueS = Math.max(Math.round(nextS), atS + intervalS / 2);
  const temperatureC = showC(now, simulation);
  const humidityPct = showPct(sensor, simulation.sensor.humidityPct, noise);
  now.lost = isLost(now, sensor.lossBurst);
  const takenAtMs = startMs + spokenS * SECOND_MS + Math.floor(drawUnit(noise) * (SECOND_MS - 1));
  if (now.lost) return null;
  return { probeId, takenAtMs, temperatureC, humidityPct: humidity ? humidityPct : null };
}

/** In tenths of a kelvin. */
function showC(now: Transmitter, { fridge, sensor, gapMm }: Simulation): number {
  const { noiseK, wanderK, offsetK } = fridge.sensor;
  now.wanderK = wander(now.noise, now.wanderK, wanderK, now.broadcast.intervalS / WANDER_LASTS_S);
  const eddiesK = gapMm > 0 ? EDDIES_K * Math.min(1, gapMm / EDDIES_FULL_MM) : 0;
  const noisyK = Math.hypot(noiseK, eddiesK) * drawNormal(now.noise);
  const shownC = Number((sensor.elementC + offsetK + now.wanderK + noisyK).toFixed(1));
  // −0 is no temperature that a sensor sends.
  return shownC === 0 ? 0 : shownC;
}

/** In tenths or whole per cent, from 1 up to just below 100. */
function showPct(sensor: Sensor, truePct: number, noise: Chance): number {
  const { humidityGain, humidityOffsetPct, humidityNoisePct, humidityStepPct } = sensor;
  const noisyPct = humidityOffsetPct + humidityNoisePct * drawNormal(noise);
  const pct = within(50 + humidityGain * (truePct - 50) + noisyPct, 1, 99.9);
  return humidityStepPct === 1 ? Math.round(Math.min(pct, 99)) : Math.round(pct * 10) / 10;
}

/** Losses come in bursts: a chain of two states that is in the lost one for `LOST_SHARE`. */
function isLost({ lost, losses }: Transmitter, burst: number): boolean {
  const ends = 1 / burst;
  const begins = (ends * LOST_SHARE) / (1 - LOST_SHARE);
  return lost ? drawUnit(losses) >= ends : drawUnit(losses) < begins;
}
