import { JudgeSeat } from "../../../daemon/intake/judge-seat.js";
import { openDraft } from "../../../daemon/journal/draft.js";
import type { Typed } from "../../../daemon/journal/fields.js";
import { composeLetter } from "../../../daemon/letters/compose.js";
import type { NewLetter, Store } from "../../../daemon/store/store.js";
import { openDaily } from "../../../sensors/simulated/habits.js";
import { makeFridge } from "../../../sensors/simulated/make.js";
import { NAMED_SKETCHES } from "../../../sensors/simulated/named-fridges.js";
import { outfitChamber } from "../../../sensors/simulated/outfit.js";
import type { Happening } from "../../../sensors/simulated/script.js";
import { seeded } from "../../../sensors/simulated/seeded.js";
import { simulate } from "../../../sensors/simulated/simulation.js";
import type { Finding } from "../../../shared/excursion.js";
import type { Reading } from "../../../shared/reading.js";
import type { Place, Probe, Site } from "../../../shared/site.js";
import { DAY_MS, HOUR_MS } from "../../../shared/time.js";

/** Days of the season, and how often each of its four probes speaks: 6 million readings. */
export const SEASON_DAYS = 180;
const INTERVAL_MS = 10_000;
const KEEPER = "keeper@quillmere.example";

const CHAMBER_IDS = ["shed", "attic"] as const;
const FRIDGES = { shed: "humid scullery", attic: "middling" } as const;

const probe = (chamberId: string, place: Place): Probe => ({
  id: `${chamberId}-${place}`,
  chamberId,
  place,
  intervalMs: INTERVAL_MS,
});

/** Two fridges of the invented allotment, each with a probe in its air and one in a box. */
export const SITE: Site = {
  name: "Quillmere shed",
  timezone: "Europe/London",
  chambers: CHAMBER_IDS.map((id) => ({
    id,
    species: "osmia-bicornis",
    bandC: { low: 1.1, high: 3.3 },
    humidityBandPct: { low: 60, high: 70 },
    cocoonLagMs: null,
  })),
  probes: CHAMBER_IDS.flatMap((id) => [probe(id, "air"), probe(id, "box")]),
};

/** Midnight at Quillmere. */
export const START_MS = Date.UTC(2026, 9, 31);
export const END_MS = START_MS + SEASON_DAYS * DAY_MS;

/** Day and hours of what goes wrong; a season worse than a keeper would wish to have. */
const MISHAPS: readonly ((days: number) => Happening)[] = [
  (day) => ({ kind: "door", share: 0.5, ...lasting(day + 9.6, 2) }),
  (day) => ({ kind: "compressor-dead", ...lasting(day + 21.2, 30) }),
  (day) => ({ kind: "mute", probeId: null, ...lasting(day + 33.3, 12) }),
  (day) => ({ kind: "door", share: 0.25, ...lasting(day + 41.9, 3) }),
  (day) => ({ kind: "contacts-welded", ...lasting(day + 55.1, 14) }),
];

function lasting(day: number, hours: number): { startMs: number; endMs: number } {
  const startMs = START_MS + day * DAY_MS;
  return { startMs, endMs: startMs + hours * HOUR_MS };
}

/** Each mishap three times a season, the attic's some days after the shed's. */
function scriptFor(index: number): Happening[] {
  return [0, 58, 116].flatMap((day) => MISHAPS.map((make) => make(day + index * 3)));
}

/** The readings of both fridges in order of time, those that were lost left out. */
function* readings(): Generator<Reading> {
  const streams = CHAMBER_IDS.map((id, i) => readingsOf(id, i));
  const next = streams.map((stream) => stream.next());
  for (;;) {
    let first = -1;
    for (const [i, { done, value }] of next.entries())
      if (!done && (first < 0 || value.takenAtMs < next[first]!.value!.takenAtMs)) first = i;
    if (first < 0) return;
    yield next[first]!.value!;
    next[first] = streams[first]!.next();
  }
}

function* readingsOf(chamberId: keyof typeof FRIDGES, index: number): Generator<Reading, void> {
  const sketch = NAMED_SKETCHES.find(({ name }) => name === FRIDGES[chamberId])!;
  const fridge = makeFridge({ ...sketch, name: chamberId });
  const outfit = { intervalMs: INTERVAL_MS, humidity: true, box: true };
  const probes = outfitChamber(fridge, index, chamberId, outfit);
  const daily = openDaily(seeded(index, "openings"), fridge.openingsPerDay, START_MS, END_MS);
  const script = [...daily, ...scriptFor(index)];
  const plan = { fridge, seed: index, startMs: START_MS, endMs: END_MS, probes, script };
  for (const { reading, arrived } of simulate(plan)) if (arrived) yield reading;
}

/** Keep the season as `drowse keep` would, in larger commits. @returns how many readings */
export function keepSeason(store: Store): number {
  const seat = new JudgeSeat(SITE);
  const letters = new Map<string, NewLetter[]>();
  let count = 0;
  let batch = { readings: [] as Reading[], findings: [] as Finding[], letters: [] as NewLetter[] };
  const write = () => {
    store.commit({ ...batch, judge: seat.remember(), heard: [] }, [KEEPER]);
    batch = { readings: [], findings: [], letters: [] };
  };
  for (const reading of readings()) {
    count += 1;
    batch.readings.push(reading);
    for (const finding of seat.hear(reading)) {
      batch.findings.push(finding);
      const earlier = letters.get(finding.excursionId) ?? [];
      const letter = composeLetter(finding, {
        site: SITE,
        temperatureUnit: "C",
        earlier,
        trouble: null,
      });
      if (letter === null) continue;
      letters.set(finding.excursionId, [...earlier, letter]);
      batch.letters.push(letter);
    }
    batch.readings.push(...seat.cocoons());
    if (batch.readings.length >= 20_000) write();
  }
  write();
  keepJournal(store);
  return count;
}

/** Commit what the probes say at an instant, as it goes on while pages are looked at. */
export function keepOn(store: Store, takenAtMs: number): void {
  const readings = SITE.probes.map(({ id: probeId }): Reading => {
    return { probeId, takenAtMs, temperatureC: 2.2, humidityPct: 66 };
  });
  store.commit({ readings, findings: [], letters: [], judge: null, heard: [] }, []);
}

/** A lot in each fridge, and what its keeper did: damped, looked through, weighed. */
function keepJournal({ journal }: Store): void {
  const dayOf = (days: number) => new Date(START_MS + days * DAY_MS).toISOString().slice(0, 10);
  const deeds = CHAMBER_IDS.flatMap((chamber): Typed[] => {
    const lot = `${chamber}-2026`;
    const every = (days: number, typed: Typed): Typed[] =>
      Array.from({ length: Math.floor((SEASON_DAYS - 2) / days) }, (_, i) => ({
        ...typed,
        on: dayOf((i + 1) * days),
      }));
    return [
      ...every(21, { deed: "damped", chamber }),
      ...every(14, { deed: "inspected", chamber, saw: "mites", words: "lowest layer" }),
      ...every(30, { deed: "weighed", lot, mass_g: "3.21", cocoons: "30" }),
    ].sort((a, b) => (a.on! < b.on! ? -1 : 1));
  });
  journal.write(END_MS, (soFar) => {
    const draft = openDraft(SITE, soFar, END_MS);
    const lots = CHAMBER_IDS.map((chamber) =>
      draft.addLot({
        lot: `${chamber}-2026`,
        large: "80",
        small: "120",
        harvested: dayOf(-20),
        chamber,
        in: dayOf(1),
      }),
    );
    const faults = [...lots, ...deeds.map(draft.addEntry)].filter((fault) => fault !== null);
    if (faults.length > 0) throw new Error(JSON.stringify(faults[0]));
    return draft.batch();
  });
}
