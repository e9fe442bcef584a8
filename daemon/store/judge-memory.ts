import { deflateRawSync, inflateRawSync } from "node:zlib";
import type { Database } from "better-sqlite3";
import type { JudgeMemory } from "./records.js";

/** Statements over `judge`, one row. The caller owns `db` and the transaction. */
export function openJudgeMemory(db: Database) {
  const load = db.prepare<[], { atMs: number; deflated: Buffer }>(
    "SELECT at_ms AS atMs, state_deflated AS deflated FROM judge",
  );
  const save = db.prepare<[number, Buffer]>(`
    INSERT INTO judge VALUES (1, ?, ?) ON CONFLICT (id) DO UPDATE SET
      at_ms = excluded.at_ms, state_deflated = excluded.state_deflated`);
  return {
    load(): JudgeMemory | null {
      const row = load.get();
      return row ? { atMs: row.atMs, state: inflateRawSync(row.deflated).toString() } : null;
    },
    // Deflated, since it is written whole every few minutes and would else be most of the bytes.
    save: ({ atMs, state }: JudgeMemory): void => void save.run(atMs, deflateRawSync(state)),
  };
}
