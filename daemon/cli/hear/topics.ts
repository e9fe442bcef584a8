import { openDecoder } from "../../../sensors/decode.js";
import { suggestProbe } from "../../../sensors/suggestion.js";
import { KnownError } from "../../../shared/errors.js";
import type { Config } from "../../config.js";
import { HeardTally } from "../../intake/heard-tally.js";
import { arrivalOf } from "../../mqtt/arrival-desk.js";
import { listenFor } from "../../mqtt/listen-for.js";
import { siteClock } from "../../rehearsal/fast-clock.js";
import { type Heard, openStore, type Store } from "../../store/store.js";

/** What a topic brought, with a probe entry to paste where no probe claims it. */
export type HeardTopic = Heard & Readonly<{ suggestion: string | null }>;

/** Entries longer than any screen help nobody; our choice. */
const SUGGESTIONS_MOST = 50;

/** What `keep` has heard so far, in any run; nothing where it never ran. */
export function readHeardTopics(config: Config): HeardTopic[] {
  const store = openIfThere(config);
  if (store === null) return [];
  try {
    const heard = store.heard.list();
    // A sample that was cut short is no whole payload, and then suggests nothing.
    const payloads = new Map(heard.map(({ topic, sample }) => [topic, Buffer.from(sample)]));
    return withSuggestions(heard, payloads, config);
  } finally {
    store.close();
  }
}

function openIfThere({ store, site }: Config): Store | null {
  try {
    return openStore(store.folder, site, { mode: "look" });
  } catch (error) {
    if (error instanceof KnownError && error.code === "STORE_MISSING") return null;
    throw error;
  }
}

/** Listen to every topic of the config's broker for a while, as a guest. */
export async function listenToTopics(config: Config, seconds: number): Promise<HeardTopic[]> {
  const decoder = openDecoder(config.sources);
  const clock = siteClock(config.store.folder);
  const tally = new HeardTally();
  const payloads = new Map<string, Uint8Array>();
  await listenFor(config.broker, seconds, ({ topic, payload, retained }) => {
    for (const decoded of decoder.decode(arrivalOf(clock, topic, payload, retained))) {
      if (decoded.kind === "battery") continue;
      const { probeId, outcome, detail } =
        decoded.kind === "rejected"
          ? { ...decoded, outcome: decoded.reason }
          : { probeId: probeOf(decoded), outcome: "reading" as const, detail: null };
      tally.note(topic, payload, clock.nowMs(), { probeId, outcome, detail });
      if (outcome === "unclaimed" && payloads.size < SUGGESTIONS_MOST) payloads.set(topic, payload);
    }
  });
  return withSuggestions(tally.read(), payloads, config);
}

type Taken = Exclude<
  ReturnType<ReturnType<typeof openDecoder>["decode"]>[number],
  { kind: "rejected" | "battery" }
>;

function probeOf(decoded: Taken): string {
  return decoded.kind === "reading" ? decoded.reading.probeId : decoded.probeId;
}

function withSuggestions(
  heard: readonly Heard[],
  payloads: ReadonlyMap<string, Uint8Array>,
  config: Config,
): HeardTopic[] {
  const takenIds = config.site.probes.map(({ id }) => id);
  let left = SUGGESTIONS_MOST;
  return heard.map((entry) => {
    const payload = payloads.get(entry.topic);
    const wanted = entry.outcome === "unclaimed" && payload !== undefined && left > 0;
    const suggestion = wanted ? suggestProbe(entry.topic, payload, takenIds) : null;
    if (suggestion === null) return { ...entry, suggestion };
    left -= 1;
    takenIds.push(/^id = "(.*)"$/m.exec(suggestion)?.[1] ?? "");
    return { ...entry, suggestion };
  });
}
