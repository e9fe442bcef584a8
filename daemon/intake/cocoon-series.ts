import type { ChamberState } from "../../rules/chamber-state.js";
import type { Reading } from "../../shared/reading.js";
import { cocoonSeriesId } from "../../shared/site.js";
import { HOUR_MS, MINUTE_MS } from "../../shared/time.js";

/** How often the cocoon temperature is written down; our choice. */
const EACH_MS = 5 * MINUTE_MS;

type Written = Readonly<{ atMs: number; temperatureC: number; seenMs: number }>;

/**
 * What the cocoons feel, as readings of a series of its own for each chamber: one each five
 * minutes, at round times, so that judging again gives the same.
 */
export class CocoonSeries {
  readonly #written = new Map<string, Written>();

  /** Go on after the clock was set by so much. */
  shift(byMs: number): void {
    for (const [id, written] of this.#written)
      this.#written.set(id, { ...written, atMs: written.atMs + byMs });
  }

  /** What is to be written since the last time. */
  next(chambers: readonly ChamberState[]): Reading[] {
    const readings: Reading[] = [];
    for (const { chamberId, exposure, slow } of chambers) {
      if (exposure === null) continue;
      const atMs = Math.floor(exposure.atMs / EACH_MS) * EACH_MS;
      const before = this.#written.get(chamberId);
      if (atMs <= (before?.atMs ?? 0)) continue;
      const now = { atMs, temperatureC: exposure.cocoonC, seenMs: exposure.seenMs };
      this.#written.set(chamberId, now);
      const probeId = cocoonSeriesId(chamberId);
      const humidityPct = slow.water === null ? null : Math.min(100, slow.water.humidityPct);
      for (const { takenAtMs, temperatureC } of [...between(before, now), last(now)])
        readings.push({ probeId, takenAtMs, temperatureC, humidityPct });
    }
    return readings;
  }
}

type Value = Readonly<{ takenAtMs: number; temperatureC: number }>;
const last = ({ atMs, temperatureC }: Written): Value => ({ takenAtMs: atMs, temperatureC });

/**
 * A probe that speaks each hour or two leaves hours without a reading, which the judge saw all the
 * same: they get the value of the straight line it drew, in their middle.
 */
function between(before: Written | undefined, now: Written): Value[] {
  if (before === undefined || now.seenMs - before.seenMs <= HOUR_MS) return [];
  const spanMs = now.atMs - before.atMs;
  const firstMs = (Math.floor(before.atMs / HOUR_MS) + 1.5) * HOUR_MS;
  const hourMs = Math.floor(now.atMs / HOUR_MS) * HOUR_MS;
  const values: Value[] = [];
  for (let takenAtMs = firstMs; takenAtMs < hourMs; takenAtMs += HOUR_MS) {
    const share = (takenAtMs - before.atMs) / spanMs;
    const temperatureC = before.temperatureC + share * (now.temperatureC - before.temperatureC);
    values.push({ takenAtMs, temperatureC });
  }
  return values;
}
