import type { Database } from "better-sqlite3";

export type Upkeep = ReturnType<typeof openUpkeep>;

/** What the store remembers of its own housekeeping, for a site in `timezone`; one row. */
export function openUpkeep(db: Database, timezone: string) {
  const read = db.prepare<
    [],
    {
      timezone: string | null;
      hoursClosedBeforeMs: number;
      daysClosedBeforeMs: number;
      prunedBeforeMs: number;
    }
  >(`SELECT timezone, hours_closed_before_ms AS hoursClosedBeforeMs,
            days_closed_before_ms AS daysClosedBeforeMs,
            pruned_before_ms AS prunedBeforeMs FROM upkeep`);
  const setTimezone = db.prepare<[string]>("UPDATE upkeep SET timezone = ?");
  const setHours = db.prepare<[number]>("UPDATE upkeep SET hours_closed_before_ms = ?");
  const setDays = db.prepare<[number]>("UPDATE upkeep SET days_closed_before_ms = ?");
  const setPruned = db.prepare<[number]>("UPDATE upkeep SET pruned_before_ms = ?");
  return {
    /** The zone that stored days are in; null before the first start. */
    timezone: () => read.get()!.timezone,
    setTimezone: () => void setTimezone.run(timezone),
    /** Hours that begin before this are in the `hour` table, later ones only in `reading`. */
    hoursClosedBeforeMs: () => read.get()!.hoursClosedBeforeMs,
    setHoursClosedBeforeMs: (atMs: number) => void setHours.run(atMs),
    /**
     * Days that begin before this are in the `day` table, later ones only in `hour`. While the
     * stored days are those of another zone, none of them counts.
     */
    daysClosedBeforeMs(): number {
      const row = read.get()!;
      return row.timezone === timezone ? row.daysClosedBeforeMs : 0;
    },
    setDaysClosedBeforeMs: (atMs: number) => void setDays.run(atMs),
    /** Raw readings before this have been forgotten. */
    prunedBeforeMs: () => read.get()!.prunedBeforeMs,
    setPrunedBeforeMs: (atMs: number) => void setPruned.run(atMs),
  };
}
