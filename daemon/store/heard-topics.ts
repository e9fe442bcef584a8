import type { Database } from "better-sqlite3";
import { DAY_MS } from "../../shared/time.js";
import type { Heard } from "./records.js";

/** Topics listed by name; what comes on others is counted together. Our choice. */
export const HEARD_TOPICS = 500;

/** The name under which all the rest is counted, one row for each outcome. */
export const OTHER_TOPICS = "(other topics)";

// MQTT allows topics of 65,535 bytes; one longer than any sensor's is not worth a row.
const TOPIC_CHARS = 512;
const SAMPLE_CHARS = 200;

type HeardRow = Omit<Heard, "probeId"> & Readonly<{ probeId: string }>;

/** Statements over `heard`. The caller owns `db` and the transaction. */
export function openHeard(db: Database) {
  const add = db.prepare<HeardRow>(`
    INSERT INTO heard (topic, probe_id, outcome, count, last_at_ms, sample, detail)
    VALUES (@topic, @probeId, @outcome, @count, @lastAtMs, @sample, @detail)
    ON CONFLICT (topic, probe_id, outcome) DO UPDATE SET count = count + excluded.count,
      last_at_ms = max(last_at_ms, excluded.last_at_ms),
      sample = excluded.sample, detail = excluded.detail`);
  const hasTopic = db.prepare<[string]>("SELECT 1 FROM heard WHERE topic = ? LIMIT 1");
  const topics = db.prepare<[], number>(
    `SELECT count(DISTINCT topic) FROM heard WHERE topic <> '${OTHER_TOPICS}'`,
  );
  topics.pluck();
  const stalest = db.prepare<[], { topic: string; lastAtMs: number }>(`
    SELECT topic, max(last_at_ms) AS lastAtMs FROM heard WHERE topic <> '${OTHER_TOPICS}'
    GROUP BY topic ORDER BY lastAtMs LIMIT 1`);
  const columns = `topic, probe_id AS probeId, outcome, count, last_at_ms AS lastAtMs, sample,
    detail`;
  const ofTopic = db.prepare<[string], HeardRow>(`SELECT ${columns} FROM heard WHERE topic = ?`);
  const remove = db.prepare<[string]>("DELETE FROM heard WHERE topic = ?");
  const list = db.prepare<[], HeardRow>(`
    SELECT ${columns} FROM heard ORDER BY topic = '${OTHER_TOPICS}', topic, probe_id, outcome`);

  const countWithOthers = (row: HeardRow): void =>
    void add.run({ ...row, topic: OTHER_TOPICS, probeId: "" });

  /** A topic silent for a day makes way, so that a sensor set up today is seen today. */
  function makeRoom(atMs: number): boolean {
    if (topics.get()! < HEARD_TOPICS) return true;
    const { topic, lastAtMs } = stalest.get()!;
    if (atMs - lastAtMs < DAY_MS) return false;
    for (const row of ofTopic.all(topic)) countWithOthers(row);
    remove.run(topic);
    return true;
  }

  return {
    /** Add to the counts. */
    add(heard: Heard): void {
      const sample = heard.sample.slice(0, SAMPLE_CHARS);
      const detail = heard.detail?.slice(0, SAMPLE_CHARS) ?? null;
      const row = { ...heard, sample, detail, probeId: heard.probeId ?? "" };
      const listed =
        row.topic.length <= TOPIC_CHARS && (hasTopic.get(row.topic) || makeRoom(row.lastAtMs));
      if (listed) add.run(row);
      else countWithOthers(row);
    },
    list: (): Heard[] =>
      list.all().map((row) => ({ ...row, probeId: row.probeId === "" ? null : row.probeId })),
  };
}
