import type { Database } from "better-sqlite3";
import type { Deaf } from "../../rules/mute.js";

/** Statements over `deaf`, the stretches in which Drowse did not listen. The caller owns `db`. */
export function openDeafStretches(db: Database) {
  const add = db.prepare<[number, number]>("INSERT INTO deaf (from_ms, to_ms) VALUES (?, ?)");
  const all = db.prepare<[], Deaf>(
    "SELECT from_ms AS fromMs, to_ms AS toMs FROM deaf ORDER BY to_ms, from_ms",
  );
  return {
    add: ({ fromMs, toMs }: Deaf): void => void add.run(Math.round(fromMs), Math.round(toMs)),
    /** All of them, in the order in which they ended. */
    all: (): Deaf[] => all.all(),
  };
}
