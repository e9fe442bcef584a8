import type { Database } from "better-sqlite3";
import { KnownError } from "../../shared/errors.js";
import { LAST_PROBE_NO } from "./keys.js";

export type ProbeNumbers = ReturnType<typeof openProbeNumbers>;

/**
 * The small numbers that stand for probe ids in keys. A number is given once and for ever, so
 * that a probe gone from the config keeps its past and gets it back when it returns.
 */
export function openProbeNumbers(db: Database) {
  const find = db.prepare<[string], number>("SELECT probe_no FROM probe WHERE probe_id = ?");
  const name = db.prepare<[number], string>("SELECT probe_id FROM probe WHERE probe_no = ?");
  const next = db.prepare<[], number>("SELECT coalesce(max(probe_no), 0) + 1 FROM probe");
  const insert = db.prepare<[number, string]>("INSERT INTO probe VALUES (?, ?)");
  for (const statement of [find, name, next]) statement.pluck();

  // Bounded by LAST_PROBE_NO; unknown ids are not remembered.
  const numbers = new Map<string, number>();
  const ids = new Map<number, string>();
  const learn = (probeId: string, probeNo: number): void => {
    numbers.set(probeId, probeNo);
    ids.set(probeNo, probeId);
  };

  function of(probeId: string): number | null {
    const probeNo = numbers.get(probeId) ?? find.get(probeId);
    if (probeNo === undefined) return null;
    learn(probeId, probeNo);
    return probeNo;
  }

  return {
    of,
    /** The number of a probe, a new one if it has none; inside the caller's transaction. */
    given(probeId: string): number {
      const known = of(probeId);
      if (known !== null) return known;
      const probeNo = next.get()!;
      if (probeNo > LAST_PROBE_NO)
        throw new KnownError(
          "STORE_FULL",
          `probe ${JSON.stringify(probeId)} can't be stored beside ${LAST_PROBE_NO} others; ` +
            "keep a new store in another folder",
        );
      insert.run(probeNo, probeId);
      learn(probeId, probeNo);
      return probeNo;
    },
    idOf(probeNo: number): string {
      const probeId = ids.get(probeNo) ?? name.get(probeNo)!;
      learn(probeId, probeNo);
      return probeId;
    },
    /** After a rollback: numbers given in that transaction do not exist. */
    forget(): void {
      numbers.clear();
      ids.clear();
    },
  };
}
