import type { LetterContext } from "../../../daemon/letters/compose.js";
import type { Excursion, Finding } from "../../../shared/excursion.js";
import type { Site } from "../../../shared/site.js";
import { MINUTE_MS } from "../../../shared/time.js";

/** An invented allotment with one fridge, an air and a box probe, and a thermometer outside. */
export const QUILLMERE: Site = {
  name: "Quillmere shed",
  timezone: "Europe/London",
  chambers: [
    {
      id: "shed",
      species: "osmia-bicornis",
      bandC: { low: 1.1, high: 3.3 },
      humidityBandPct: { low: 60, high: 70 },
      cocoonLagMs: null,
    },
  ],
  probes: [
    { id: "shed-air", chamberId: "shed", place: "air", intervalMs: MINUTE_MS },
    { id: "shed-box", chamberId: "shed", place: "box", intervalMs: MINUTE_MS },
    { id: "yard", chamberId: null, place: "outdoors", intervalMs: 5 * MINUTE_MS },
  ],
};

/** Sunday 11 January 2026, 03:15 in Quillmere. */
export const NIGHT_MS = Date.UTC(2026, 0, 11, 3, 15);

export const CONTEXT: LetterContext = {
  site: QUILLMERE,
  temperatureUnit: "C",
  earlier: [],
  trouble: null,
  mailDomain: "example.org",
};

/** A door left ajar, told six minutes after it began; each field can be put otherwise. */
export function finding(changed: Partial<Finding> = {}): Finding {
  return {
    atMs: NIGHT_MS,
    chamberId: "shed",
    probeId: "shed-air",
    excursionId: "shed/door-ajar/1768101240000",
    change: "opened",
    cause: "door-ajar",
    urgency: "rush",
    startedAtMs: NIGHT_MS - 6 * MINUTE_MS,
    cocoonC: 2.6,
    airC: 7.9,
    humidityPct: 84,
    cocoonSpanC: { low: 2.3, high: 2.6 },
    comparedWith: "ordinary openings here, which are over within 2 minutes",
    cost: {
      degreeHoursAbove: 0,
      degreeHoursBelow: 0,
      reserveDays: 0,
      wetHours: null,
      mouldIndex: null,
    },
    forecast: {
      settlesAtC: { low: 11.2, high: 14.6 },
      reaches: [
        { targetC: 3.3, soonestMin: 12, latestMin: 21 },
        { targetC: 10, soonestMin: 143, latestMin: 310 },
      ],
    },
    ...changed,
  };
}

/** The excursion that a finding belongs to, as the store would keep it. */
export function excursionOf(latest: Finding, changed: Partial<Excursion> = {}): Excursion {
  return {
    id: latest.excursionId,
    chamberId: latest.chamberId,
    probeId: latest.probeId,
    cause: latest.cause,
    urgency: latest.urgency,
    startedAtMs: latest.startedAtMs,
    openedAtMs: latest.atMs,
    endedAtMs: latest.change === "ended" ? latest.atMs : null,
    acknowledgedAtMs: null,
    latest,
    ...changed,
  };
}
