import type { Database } from "better-sqlite3";
import { type Excursion, type Finding, outranks } from "../../shared/excursion.js";
import type { OrdinaryEvent } from "./records.js";

type ExcursionRow = Readonly<{
  id: string;
  startedAtMs: number;
  openedAtMs: number;
  endedAtMs: number | null;
  acknowledgedAtMs: number | null;
  latest: string;
}>;

// Written as in the index over them, or SQLite would not know that it has them there.
const CAUSE = "json_extract(latest, '$.cause')";
const CHAMBER = "json_extract(latest, '$.chamberId')";
const ORDINARY = `(json_extract(latest, '$.urgency') = 'note' AND ${CAUSE} IN ('opening', 'defrost'))`;

/** Statements over `excursion` and `finding`. The caller owns `db` and the transaction. */
export function openExcursions(db: Database) {
  const columns = `id, started_at_ms AS startedAtMs, opened_at_ms AS openedAtMs,
    ended_at_ms AS endedAtMs, acknowledged_at_ms AS acknowledgedAtMs, latest`;
  const get = db.prepare<[string], ExcursionRow>(`SELECT ${columns} FROM excursion WHERE id = ?`);
  const open = db.prepare<[], ExcursionRow>(
    `SELECT ${columns} FROM excursion WHERE ended_at_ms IS NULL ORDER BY opened_at_ms, id`,
  );
  const between = db.prepare<[number, number], ExcursionRow>(`
    SELECT ${columns} FROM excursion
    WHERE started_at_ms < ? AND (ended_at_ms IS NULL OR ended_at_ms >= ?)
    ORDER BY started_at_ms, id`);
  const mattering = db.prepare<[number, number], ExcursionRow>(`
    SELECT ${columns} FROM excursion
    WHERE started_at_ms < ? AND (ended_at_ms IS NULL OR ended_at_ms >= ?) AND NOT ${ORDINARY}
    ORDER BY started_at_ms, id`);
  // All it reads is in the index, so that no finding need be parsed.
  const ordinary = db.prepare<[number, number, string], OrdinaryEvent>(`
    SELECT started_at_ms AS atMs, ${CAUSE} AS cause FROM excursion
    WHERE started_at_ms >= ? AND started_at_ms < ? AND ${ORDINARY} AND ${CHAMBER} = ?
    ORDER BY started_at_ms`);
  const put = db.prepare<ExcursionRow>(`
    INSERT INTO excursion
    VALUES (@id, @startedAtMs, @openedAtMs, @endedAtMs, @acknowledgedAtMs, @latest)
    ON CONFLICT (id) DO UPDATE SET started_at_ms = excluded.started_at_ms,
      ended_at_ms = excluded.ended_at_ms, acknowledged_at_ms = excluded.acknowledged_at_ms,
      latest = excluded.latest`);
  const known = db.prepare<[string, number, string]>(
    "SELECT 1 FROM finding WHERE excursion_id = ? AND at_ms = ? AND change = ?",
  );
  const record = db.prepare<[string, number, string, string]>(
    "INSERT INTO finding VALUES (?, ?, ?, ?)",
  );
  const history = db.prepare<[string], string>(
    "SELECT finding FROM finding WHERE excursion_id = ? ORDER BY at_ms, rowid",
  );
  history.pluck();
  const keepAside = db.prepare<[number, string, number | null, string]>(
    "INSERT INTO revised VALUES (?, ?, ?, ?)",
  );
  const dropFindings = db.prepare<[string]>("DELETE FROM finding WHERE excursion_id = ?");
  const drop = db.prepare<[string]>("DELETE FROM excursion WHERE id = ?");
  const acknowledge = db.prepare<[number, string]>(`
    UPDATE excursion SET acknowledged_at_ms = ? WHERE id = ? AND acknowledged_at_ms IS NULL`);

  function apply(finding: Finding): void {
    const { excursionId, atMs, change } = finding;
    if (known.get(excursionId, atMs, change)) return;
    const before = get.get(excursionId) ?? null;
    put.run(nextRow(before, finding));
    record.run(excursionId, atMs, change, JSON.stringify(finding));
  }

  return {
    /** Take in one change of an excursion; one that is known already changes nothing. */
    apply,
    /**
     * Put excursions as they are judged now in the place of those judged before, which are kept
     * aside under the number of the entry that had them judged anew. An excursion of the same id
     * stays acknowledged.
     */
    revise(entryNo: number, before: readonly string[], after: readonly Finding[]): void {
      const acknowledged = new Map<string, number>();
      for (const id of before) {
        const { acknowledgedAtMs } = get.get(id)!;
        keepAside.run(entryNo, id, acknowledgedAtMs, `[${history.all(id).join(",")}]`);
        if (acknowledgedAtMs !== null) acknowledged.set(id, acknowledgedAtMs);
        dropFindings.run(id);
        drop.run(id);
      }
      for (const finding of after) apply(finding);
      for (const [id, atMs] of acknowledged) acknowledge.run(atMs, id);
    },
    open: (): Excursion[] => open.all().map(toExcursion),
    between: (fromMs: number, toMs: number): Excursion[] =>
      between.all(toMs, fromMs).map(toExcursion),
    mattering: (fromMs: number, toMs: number): Excursion[] =>
      mattering.all(toMs, fromMs).map(toExcursion),
    ordinary: (chamberId: string, fromMs: number, toMs: number): OrdinaryEvent[] =>
      ordinary.all(fromMs, toMs, chamberId),
    get(id: string): Excursion | null {
      const row = get.get(id);
      return row ? toExcursion(row) : null;
    },
    history: (id: string): Finding[] => history.all(id).map((text) => JSON.parse(text) as Finding),
    acknowledge: (id: string, atMs: number): boolean => acknowledge.run(atMs, id).changes === 1,
  };
}

function nextRow(before: ExcursionRow | null, finding: Finding): ExcursionRow {
  const fresh: ExcursionRow = {
    id: finding.excursionId,
    startedAtMs: finding.startedAtMs,
    openedAtMs: before?.openedAtMs ?? finding.atMs,
    endedAtMs: finding.change === "ended" ? finding.atMs : null,
    acknowledgedAtMs: null,
    latest: JSON.stringify(finding),
  };
  if (!before) return fresh;
  const latest = JSON.parse(before.latest) as Finding;
  if (finding.atMs < latest.atMs) return before;
  // A keeper who has acknowledged a visit has not yet heard of a rush.
  const rose = outranks(finding.urgency, latest.urgency);
  return { ...fresh, acknowledgedAtMs: rose ? null : before.acknowledgedAtMs };
}

function toExcursion({ latest: text, ...row }: ExcursionRow): Excursion {
  const latest = JSON.parse(text) as Finding;
  const { chamberId, probeId, cause, urgency } = latest;
  return { ...row, chamberId, probeId, cause, urgency, latest };
}
