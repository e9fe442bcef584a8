import { makeFridge } from "../../sensors/simulated/make.js";
import { NAMED_SKETCHES } from "../../sensors/simulated/named-fridges.js";
import type { Happening } from "../../sensors/simulated/script.js";
import type { StationPlan } from "../../sensors/simulated/station.js";
import { DAY_MS, HOUR_MS, MINUTE_MS } from "../../shared/time.js";

/*
 * Quillmere, an allotment that there isn't: one fridge in a shed, a probe in its air and one in a
 * box of cocoons, and more mishaps in two days than a keeper has in ten winters.
 */

const CHAMBER = "shed";
const TOPIC_BASE = `quillmere/${CHAMBER}`;
const SEED = 1107;
/** What the station kept back before the rehearsal began: a fridge known for a day only is not
 * known well enough for its door to be told within minutes. */
const BACKLOG_MS = 2 * DAY_MS;
const LENGTH_MS = 400 * DAY_MS;
const ROUND_MS = 2 * DAY_MS;

/** When a rehearsal begins, on its own clock, and how much faster than the machine's that runs. */
export type Outset = Readonly<{ fromMs: number; speed: number }>;

/**
 * Eight in the morning, UTC, of the day that `nowMs` is in: everything at Quillmere follows from
 * the time of day, so that each rehearsal tells the same story.
 */
export function morningOf(nowMs: number): number {
  return nowMs - (nowMs % DAY_MS) + 8 * HOUR_MS;
}

/** A mishap of the rehearsal, in words for whoever watches. */
export type Mishap = Happening & Readonly<{ words: string }>;

/** When the first mishap begins: early enough to be seen, with time to see it come. */
export function firstMishapMs({ fromMs, speed }: Outset): number {
  const waitMs = 30_000 * speed;
  return fromMs + Math.min(HOUR_MS / 2, Math.max(2 * MINUTE_MS, waitMs));
}

/** Everything that goes wrong at Quillmere, round after round. */
export function planMishaps(outset: Outset): Mishap[] {
  const mishaps: Mishap[] = [];
  for (let roundMs = firstMishapMs(outset); roundMs < outset.fromMs + LENGTH_MS; ) {
    const at = (hours: number, lastsHours: number) => ({
      startMs: roundMs + hours * HOUR_MS,
      endMs: roundMs + (hours + lastsHours) * HOUR_MS,
    });
    mishaps.push(
      { ...at(0, 0.75), kind: "door", share: 0.6, words: "the door is left ajar" },
      { ...at(8, 7), kind: "compressor-dead", words: "the compressor fails" },
      {
        ...at(24, 1),
        kind: "mute",
        probeId: `${CHAMBER}-air`,
        words: "the air probe falls silent",
      },
      { ...at(30, 10), kind: "contacts-welded", words: "the thermostat sticks and cools on" },
    );
    roundMs += ROUND_MS;
  }
  return mishaps;
}

/** Quillmere's fridge, its probes and all that happens to it, its past two days included. */
export function planQuillmere({ fromMs, speed }: Outset): StationPlan {
  const sketch = NAMED_SKETCHES.find(({ name }) => name === "middling")!;
  return {
    fridge: makeFridge({ ...sketch, name: "Quillmere shed" }),
    seed: SEED,
    chamberId: CHAMBER,
    outfit: { intervalMs: MINUTE_MS, humidity: true, box: true },
    startMs: fromMs - BACKLOG_MS,
    endMs: fromMs + LENGTH_MS,
    script: planMishaps({ fromMs, speed }),
    haste: speed,
    topicBase: TOPIC_BASE,
  };
}

/** The config of a rehearsal, as a keeper would write it. */
export function quillmereConfig(ports: Readonly<{ broker: number; pages: number }>): string {
  return `# Written by drowse rehearse: Quillmere, an allotment that there isn't.
[site]
name = "Quillmere shed"
timezone = "Europe/London"
keepers = ["keeper@quillmere.example"]

[broker]
embedded = "127.0.0.1:${ports.broker}"

[page]
listen = "127.0.0.1:${ports.pages}"

[store]
folder = "."
group_s = 1

[[chamber]]
id = "${CHAMBER}"
species = "osmia-bicornis"
${["air", "box"].map((place) => probeEntry(place)).join("")}`;
}

function probeEntry(place: string): string {
  return `
[[probe]]
id = "${CHAMBER}-${place}"
chamber = "${CHAMBER}"
place = "${place}"
topic = "${TOPIC_BASE}/${place}"
payload = "json"
temperature = "/temperature"
humidity = "/humidity"
time = "/time"
interval_s = 60
`;
}
