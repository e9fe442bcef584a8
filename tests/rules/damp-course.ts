import type { JudgeEvent } from "../../rules/judge.js";
import type { Reading } from "../../shared/reading.js";
import type { Place } from "../../shared/site.js";
import { HOUR_MS, MINUTE_MS } from "../../shared/time.js";
import { START_MS } from "./quillmere.js";

/** A value, or one for each hour since the start. */
type OfHour = number | ((hour: number) => number | null) | null;

/** What one probe measures. */
export type Told = Readonly<{ id: string; place: Place; c: OfHour; pct: OfHour }>;

const at = (value: OfHour, hour: number): number | null =>
  typeof value === "function" ? value(hour) : value;

/**
 * Readings of probes, each five minutes, from START_MS on. A probe is silent where its temperature
 * is null.
 */
export function readingsOf(hours: number, probes: readonly Told[]): Reading[] {
  const readings: Reading[] = [];
  for (let ms = 0; ms < hours * HOUR_MS; ms += 5 * MINUTE_MS)
    for (const { id: probeId, c, pct } of probes) {
      const measuredC = at(c, ms / HOUR_MS);
      if (measuredC === null) continue;
      // The last digit flickers as a real sensor's does; one that stood still would be stuck.
      const flickerC = (ms / MINUTE_MS) % 10 === 0 ? 0 : 0.0001;
      const temperatureC = measuredC + flickerC;
      const humidityPct = at(pct, ms / HOUR_MS);
      readings.push({ probeId, takenAtMs: START_MS + ms, temperatureC, humidityPct });
    }
  return readings;
}

/** A deed of the keeper at an hour since the start. */
export function tendedAt(
  hour: number,
  deed: (JudgeEvent & { kind: "tended" })["deed"],
): JudgeEvent & { kind: "tended" } {
  return { kind: "tended", chamberId: "shed", atMs: START_MS + hour * HOUR_MS, deed };
}

/** Deeds and readings together, each deed told `lateHours` after it was done. */
export function told(
  readings: readonly Reading[],
  deeds: readonly (JudgeEvent & { kind: "tended" })[],
  lateHours = 0,
): JudgeEvent[] {
  const events: { ms: number; event: JudgeEvent }[] = [
    ...readings.map((reading) => ({
      ms: reading.takenAtMs,
      event: { kind: "reading", reading } as const,
    })),
    ...deeds.map((event) => ({ ms: event.atMs + lateHours * HOUR_MS, event })),
  ];
  return events.sort((a, b) => a.ms - b.ms).map(({ event }) => event);
}
