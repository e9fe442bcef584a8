import { printablePayload } from "../../sensors/printable.js";
import type { Heard } from "../store/store.js";

type Entry = {
  probeId: string | null;
  outcome: Heard["outcome"];
  topic: string;
  count: number;
  lastAtMs: number;
  sample: string | null;
  detail: string | null;
  said: boolean;
};

/** Our choice: several times the topics of a busy home. */
const ENTRIES_MOST = 500;
/** The topic under which all is counted that came after the tally was full. */
export const OTHER_TOPICS = "(other topics)";
const SAMPLE_CHARS = 200;
const TOPIC_CHARS = 300;

/**
 * Counts what was heard on each topic and what became of it, between two commits.
 *
 * Bound: 500 pairs of topic and outcome; what comes beyond is counted under one more name.
 */
export class HeardTally {
  readonly #entries = new Map<string, Entry>();
  /** The entries of readings by their topic alone, the way nearly all messages go. */
  readonly #readings = new Map<string, Entry>();
  #freshKeys = 0;

  /** Whether a topic or an outcome was met that no commit has told the store of yet. */
  get hasNews(): boolean {
    return this.#freshKeys > 0;
  }

  /** @returns true the first time this outcome is met on this topic since the start */
  note(
    topic: string,
    payload: Uint8Array,
    atMs: number,
    what: Readonly<Pick<Heard, "probeId" | "outcome" | "detail">>,
  ): boolean {
    const atHand = what.outcome === "reading" ? this.#readings.get(topic) : undefined;
    const entry =
      atHand ?? this.#entries.get(`${what.outcome} ${topic}`) ?? this.#open(topic, what);
    entry.count += 1;
    entry.lastAtMs = atMs;
    entry.detail = what.detail;
    // The text of one message is enough, and decoding each would cost more than judging it.
    entry.sample ??= printablePayload(payload, SAMPLE_CHARS);
    const isFirst = !entry.said;
    entry.said = true;
    return isFirst;
  }

  /** What has been counted since it was last stored. */
  read(): Heard[] {
    const heard: Heard[] = [];
    for (const { said: _, ...entry } of this.#entries.values())
      if (entry.count > 0) heard.push({ ...entry, sample: entry.sample ?? "" });
    return heard;
  }

  /** What {@link read} gave is stored; begin to count afresh. */
  stored(): void {
    this.#freshKeys = 0;
    for (const entry of this.#entries.values()) {
      entry.count = 0;
      entry.sample = null;
    }
  }

  #open(topic: string, what: Readonly<Pick<Heard, "probeId" | "outcome" | "detail">>): Entry {
    const shown = this.#entries.size < ENTRIES_MOST ? topic.slice(0, TOPIC_CHARS) : OTHER_TOPICS;
    const key = `${what.outcome} ${shown}`;
    const known = this.#entries.get(key);
    if (known !== undefined) return known;
    const entry = { ...what, topic: shown, count: 0, lastAtMs: 0, sample: null, said: false };
    this.#entries.set(key, entry);
    if (what.outcome === "reading" && shown === topic) this.#readings.set(topic, entry);
    this.#freshKeys += 1;
    return entry;
  }
}
