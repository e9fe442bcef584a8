import { connectAsync } from "mqtt";
import { type Publication, runStation } from "../../sensors/simulated/station.js";
import { fastClock, type Pace } from "./fast-clock.js";
import { type Outset, planMishaps, planQuillmere } from "./quillmere.js";

/*
 * The simulated chamber of a rehearsal, a process of its own: it knows Drowse only as a broker to
 * publish to, as a real station would. Started by `drowse rehearse`, and gone with it.
 */

/** Messages on their way at once while the station sends what it kept back. */
const UNDERWAY_MOST = 64;
/** A timer's length is bounded, and so is the wait of a station that says nothing for long. */
const WAIT_MOST_MS = 1_000;

/** What the station tells whoever started it: a mishap, or that all it kept back is sent. */
export type StationNews = Readonly<{ atMs: number; words: string } | { ready: true }>;

async function publishAll(port: number, outset: Outset): Promise<void> {
  const client = await connectAsync(`mqtt://127.0.0.1:${port}`, { clientId: "quillmere-station" });
  const underway = new Set<Promise<unknown>>();
  const publish = async ({ topic, payload }: Publication) => {
    if (underway.size >= UNDERWAY_MOST) await Promise.race(underway);
    const sent = client
      .publishAsync(topic, payload, { qos: 1 })
      .finally(() => underway.delete(sent));
    underway.add(sent);
  };
  const publications = runStation(planQuillmere(outset));
  let next = publications.next();
  for (
    ;
    next.done !== true && next.value.reading.takenAtMs < outset.fromMs;
    next = publications.next()
  )
    await publish(next.value);
  await Promise.all(underway);

  const pace = await askPace();
  const { nowMs } = fastClock(pace);
  const tellMishaps = openMishaps(outset);
  for (; next.done !== true; next = publications.next()) {
    const { takenAtMs } = next.value.reading;
    await waitUntil(takenAtMs, nowMs, pace.speed);
    tellMishaps(takenAtMs);
    await publish(next.value);
  }
}

/** Say that time may run now, and hear how it does. */
function askPace(): Promise<Pace> {
  return new Promise((resolve) => {
    process.once("message", (pace: Pace) => resolve(pace));
    tell({ ready: true });
  });
}

function openMishaps(outset: Outset): (untilMs: number) => void {
  const mishaps = planMishaps(outset);
  return (untilMs) => {
    for (let next = mishaps[0]; next !== undefined && next.startMs <= untilMs; next = mishaps[0]) {
      tell({ atMs: next.startMs, words: next.words });
      mishaps.shift();
    }
  };
}

function tell(news: StationNews): void {
  process.send?.(news);
}

async function waitUntil(atMs: number, nowMs: () => number, speed: number): Promise<void> {
  for (let leftMs = atMs - nowMs(); leftMs > 0; leftMs = atMs - nowMs()) {
    const ms = Math.min(WAIT_MOST_MS, leftMs / speed);
    await new Promise((resolve) => setTimeout(resolve, ms));
  }
}

// Its reason to be is gone when the rehearsal is, however that ended.
process.on("disconnect", () => process.exit(0));
// A Ctrl-C reaches both; the rehearsal ends this process once it has closed itself.
process.on("SIGINT", () => {});
const [port, fromMs, speed] = process.argv.slice(2).map(Number);
await publishAll(port!, { fromMs: fromMs!, speed: speed! });
