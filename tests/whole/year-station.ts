import { makeFridge } from "../../sensors/simulated/make.js";
import { NAMED_SKETCHES } from "../../sensors/simulated/named-fridges.js";
import type { Happening } from "../../sensors/simulated/script.js";
import { runStation } from "../../sensors/simulated/station.js";
import { DAY_MS, HOUR_MS, MINUTE_MS } from "../../shared/time.js";

/** A message as a sensor would publish it, and when. */
export type Message = Readonly<{ atMs: number; topic: string; payload: string }>;

/** Midnight, the first of October 2025, in Quillmere. */
export const AUTUMN_MS = Date.UTC(2025, 8, 30, 23);
const DAYS = 243;
const INTERVAL_MS = 15 * MINUTE_MS;

/** Highest temperatures outdoors, °C, by the day from which they go on in a straight line. */
const HIGHS: readonly (readonly [day: number, highC: number])[] = [
  [0, 15],
  [70, 6],
  [110, 6],
  // Five days of a warm spell in January: the 20th to the 24th.
  [111, 14.5],
  [115, 14.5],
  [116, 6],
  [150, 7],
  [178, 12.4],
  // Spring comes on 29 March.
  [179, 14],
  [243, 18],
];

/** All that the sensors of Quillmere say from October to May, in the order of time. */
export function* liveYear(script: readonly Happening[]): Generator<Message, void, undefined> {
  const shed = runStation({
    fridge: makeFridge(NAMED_SKETCHES.find(({ name }) => name === "middling")!),
    seed: 1107,
    chamberId: "shed",
    outfit: { intervalMs: INTERVAL_MS, humidity: true, box: true },
    startMs: AUTUMN_MS,
    endMs: AUTUMN_MS + DAYS * DAY_MS,
    script,
    haste: 1,
    topicBase: "quillmere/shed",
  });
  let hourMs = AUTUMN_MS;
  for (const { reading, topic, payload } of shed) {
    for (; hourMs <= reading.takenAtMs; hourMs += HOUR_MS) {
      yield said(hourMs, "quillmere/yard", outdoorsC(hourMs));
      // What never changes for two months is no measurement.
      yield said(hourMs, "quillmere/loft/box", 2 + ((hourMs / HOUR_MS) % 3) * 0.06);
    }
    yield { atMs: reading.takenAtMs, topic, payload };
  }
}

function said(atMs: number, topic: string, temperature: number): Message {
  const time = new Date(atMs).toISOString();
  return { atMs, topic, payload: JSON.stringify({ temperature, time }) };
}

/** A day's course: the high at two in the afternoon, seven kelvin less at two in the night. */
function outdoorsC(atMs: number): number {
  const days = (atMs - AUTUMN_MS) / DAY_MS;
  const today = Math.floor(days);
  const next = HIGHS.findIndex(([day]) => day > today);
  const [[fromDay, fromC], [toDay, toC]] = [HIGHS[next - 1]!, HIGHS[next] ?? HIGHS.at(-1)!];
  const share = toDay === fromDay ? 0 : (today - fromDay) / (toDay - fromDay);
  const high = fromC + share * (toC - fromC);
  return high - 3.5 * (1 - Math.cos(2 * Math.PI * (days - today - 14 / 24)));
}
