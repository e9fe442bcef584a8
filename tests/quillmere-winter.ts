import { JudgeSeat } from "../daemon/intake/judge-seat.js";
import { composeLetter } from "../daemon/letters/compose.js";
import type { LetterContext } from "../daemon/letters/letter-context.js";
import type { NewLetter, Store } from "../daemon/store/store.js";
import { makeFridge } from "../sensors/simulated/make.js";
import { NAMED_SKETCHES } from "../sensors/simulated/named-fridges.js";
import type { Happening } from "../sensors/simulated/script.js";
import { runStation } from "../sensors/simulated/station.js";
import type { Finding } from "../shared/excursion.js";
import type { Reading } from "../shared/reading.js";
import type { Site } from "../shared/site.js";
import { DAY_MS, HOUR_MS, MINUTE_MS } from "../shared/time.js";

/** The invented allotment, with a probe in the air and one in a box. */
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
    { id: "shed-air", chamberId: "shed", place: "air", intervalMs: 2 * MINUTE_MS },
    { id: "shed-box", chamberId: "shed", place: "box", intervalMs: 2 * MINUTE_MS },
  ],
};

/** 1 October 2026, midnight at Quillmere. */
export const AUTUMN_MS = Date.UTC(2026, 8, 30, 23);

const CONTEXT: LetterContext = {
  site: QUILLMERE,
  temperatureUnit: "C",
  earlier: [],
  trouble: null,
};

/** What goes wrong in the demo winter, in days after its start. */
const MISHAPS: readonly Happening[] = [
  { kind: "door", share: 0.5, ...lasting(12.6, 1.5) },
  { kind: "compressor-dead", ...lasting(33.2, 20) },
  { kind: "mute", probeId: null, ...lasting(47.3, 31) },
  { kind: "door", share: 0.25, ...lasting(58.9, 3) },
  { kind: "contacts-welded", ...lasting(76.1, 14) },
  { kind: "door", share: 0.8, ...lasting(77.8, 0.6) },
  { kind: "compressor-dead", ...lasting(101.4, 6) },
  { kind: "mute", probeId: "shed-air", ...lasting(120.2, 4) },
  { kind: "door", share: 0.4, ...lasting(139.7, 9) },
];

function lasting(day: number, hours: number): { startMs: number; endMs: number } {
  const startMs = AUTUMN_MS + day * DAY_MS;
  return { startMs, endMs: startMs + hours * HOUR_MS };
}

/**
 * Keep a simulated winter into a store as `drowse keep` would: readings, what the cocoons felt,
 * findings, letters and the judge's memory. Returns when it ended.
 *
 * @param days from 1 October on
 * @param fridgeName one of the named sketches
 */
export function keepWinter(
  store: Store,
  days: number,
  keepers: readonly string[] = [],
  fridgeName = "humid scullery",
): number {
  const endMs = AUTUMN_MS + days * DAY_MS;
  const sketch = NAMED_SKETCHES.find(({ name }) => name === fridgeName)!;
  const publications = runStation({
    fridge: makeFridge({ ...sketch, name: "Quillmere shed" }),
    seed: 1107,
    chamberId: "shed",
    outfit: { intervalMs: 2 * MINUTE_MS, humidity: true, box: true },
    startMs: AUTUMN_MS,
    endMs,
    script: MISHAPS,
    haste: 1,
    topicBase: "quillmere/shed",
  });
  const seat = new JudgeSeat(QUILLMERE);
  const letters = new Map<string, NewLetter[]>();
  let pending = {
    readings: [] as Reading[],
    findings: [] as Finding[],
    letters: [] as NewLetter[],
  };
  const write = () => {
    store.commit({ ...pending, judge: seat.remember(), heard: [] }, keepers);
    pending = { readings: [], findings: [], letters: [] };
  };
  for (const { reading } of publications) {
    pending.readings.push(reading);
    for (const finding of seat.hear(reading)) {
      pending.findings.push(finding);
      const earlier = letters.get(finding.excursionId) ?? [];
      const letter = composeLetter(finding, { ...CONTEXT, earlier });
      if (letter === null) continue;
      letters.set(finding.excursionId, [...earlier, letter]);
      pending.letters.push(letter);
    }
    pending.readings.push(...seat.cocoons());
    if (pending.readings.length >= 5_000) write();
  }
  write();
  return endMs;
}
