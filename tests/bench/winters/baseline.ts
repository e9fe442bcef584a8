import type { Reading } from "../../../shared/reading.js";
import type { Site } from "../../../shared/site.js";
import { MINUTE_MS } from "../../../shared/time.js";
import type { Told } from "./score.js";

/**
 * The plain rule that Drowse is measured against, our own choice of what somebody would set up
 * in an evening: a letter when the air probe has read above 8 °C, or below 0 °C, for 10 min
 * without a break, another only after it has come back inside; and one when a probe has been
 * unheard for 20 min.
 */
const PLAIN_RULE = {
  highC: 8,
  lowC: 0,
  holdMs: 10 * MINUTE_MS,
  unheardMs: 20 * MINUTE_MS,
} as const;

/** Every letter that the plain rule would write. */
export function judgePlainly(readings: readonly Reading[], site: Site, endMs: number): Told[] {
  return site.probes.flatMap((probe) => {
    const own = readings.filter((r) => r.probeId === probe.id);
    const silences = findSilences(own, endMs).map((atMs) => ({
      atMs,
      cause: "probe-mute" as const,
    }));
    const beyond =
      probe.place === "air"
        ? [
            ...findHolds(own, (c) => c > PLAIN_RULE.highC).map((atMs) => ({
              atMs,
              cause: "warm" as const,
            })),
            ...findHolds(own, (c) => c < PLAIN_RULE.lowC).map((atMs) => ({
              atMs,
              cause: "cold" as const,
            })),
          ]
        : [];
    return [...silences, ...beyond].map(
      ({ atMs, cause }): Told => ({
        atMs,
        change: "opened",
        cause,
        urgency: "visit",
        startedAtMs: atMs,
        chamberId: probe.chamberId,
        probeId: probe.id,
      }),
    );
  });
}

function findHolds(readings: readonly Reading[], isBeyond: (c: number) => boolean): number[] {
  const at: number[] = [];
  let sinceMs: number | null = null;
  let told = false;
  for (const { takenAtMs, temperatureC } of readings) {
    if (temperatureC === null) continue;
    if (!isBeyond(temperatureC)) {
      sinceMs = null;
      told = false;
      continue;
    }
    sinceMs ??= takenAtMs;
    if (told || takenAtMs - sinceMs < PLAIN_RULE.holdMs) continue;
    told = true;
    at.push(takenAtMs);
  }
  return at;
}

function findSilences(readings: readonly Reading[], endMs: number): number[] {
  return readings.flatMap(({ takenAtMs }, i) => {
    const nextMs = readings[i + 1]?.takenAtMs ?? endMs;
    return nextMs - takenAtMs > PLAIN_RULE.unheardMs ? [takenAtMs + PLAIN_RULE.unheardMs] : [];
  });
}
