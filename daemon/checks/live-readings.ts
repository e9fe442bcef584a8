import { openDecoder } from "../../sensors/decode.js";
import type { Reading } from "../../shared/reading.js";
import type { Clock } from "../clock.js";
import type { Config } from "../config.js";
import { arrivalOf } from "../mqtt/arrival-desk.js";
import { listenFor } from "../mqtt/listen-for.js";
import type { Store } from "../store/store.js";

/** The readings of one probe while it is being checked, as it sends them. */
export type LiveReadings = Readonly<{
  /** Those taken from an instant on, oldest first. */
  since(fromMs: number): readonly Reading[];
  close(): Promise<void>;
}>;

/** A check that lasts longer keeps the newest of them; our choice, a day at one each 5 s. */
const KEPT_MOST = 17_280;
const END_OF_TIME_MS = 8.64e15;

/** What `drowse keep` stores while it runs beside us. */
export function readingsOfStore(store: Pick<Store, "readings">, probeId: string): LiveReadings {
  return {
    since: (fromMs) => [...store.readings.between(probeId, fromMs, END_OF_TIME_MS)],
    close: async () => {},
  };
}

/**
 * What an outside broker passes on, heard as a guest; nothing of it is stored by this. Resolves
 * once it listens.
 *
 * @throws {KnownError} BROKER_UNREACHABLE or BROKER_REFUSED
 */
export async function readingsOfBroker(
  { broker, sources }: Pick<Config, "broker" | "sources">,
  probeId: string,
  clock: Clock,
): Promise<LiveReadings> {
  const decoder = openDecoder(sources.filter((source) => source.probeId === probeId));
  const heard: Reading[] = [];
  const stop = new AbortController();
  const listening = listenFor(broker, stop.signal, ({ topic, payload, retained }) => {
    for (const decoded of decoder.decode(arrivalOf(clock, topic, payload, retained)))
      if (decoded.kind === "reading") heard.push(decoded.reading);
    if (heard.length > KEPT_MOST) heard.splice(0, heard.length - KEPT_MOST);
  });
  // A broker that cannot be reached says so at once, and not only when the check is over.
  await Promise.race([listening, new Promise((resolve) => setTimeout(resolve, SETTLES_MS))]);
  return {
    since: (fromMs) =>
      heard
        .filter(({ takenAtMs }) => takenAtMs >= fromMs)
        .sort((a, b) => a.takenAtMs - b.takenAtMs),
    close: async () => {
      stop.abort();
      await listening;
    },
  };
}

/** By then a broker in the same house has answered; our choice. */
const SETTLES_MS = 1_000;
