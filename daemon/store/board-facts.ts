import type { Database } from "better-sqlite3";

/** Statements over `board`, small facts about the machine. The caller owns `db`. */
export function openBoard(db: Database) {
  const read = db.prepare<[string], string>("SELECT value FROM board WHERE key = ?");
  read.pluck();
  const note = db.prepare<[string, string]>(`
    INSERT INTO board VALUES (?, ?) ON CONFLICT (key) DO UPDATE SET value = excluded.value`);
  const get = (key: string): string | null => read.get(key) ?? null;
  return {
    note(key: string, value: string): void {
      if (get(key) !== value) note.run(key, value);
    },
    read: get,
  };
}
