import type { Database } from "better-sqlite3";
import { startOfLocalDay, startOfLocalHour } from "../../shared/site-calendar.js";
import { DAY_MS, HOUR_MS } from "../../shared/time.js";
import type { Checks } from "./checks.js";
import { openCounting } from "./counted-rows.js";
import { openKeptBlocks } from "./kept-blocks.js";
import { probeNoOfKey, takenAtMsOfKey } from "./keys.js";
import { MINUTES_MS, openMinutes } from "./minutes.js";
import type { ProbeNumbers } from "./probe-numbers.js";
import type { ReadingRow, Readings } from "./readings.js";
import type { Rollup } from "./records.js";
import { gatherReadings, gatherRollups, startOfRow } from "./rollup-spans.js";
import { openRollupTable, type RollupRow } from "./rollup-table.js";
import { toRollup } from "./tally.js";
import type { Upkeep } from "./upkeep.js";

type Parts = Readonly<{
  probes: ProbeNumbers;
  upkeep: Upkeep;
  readings: Readings;
  checks: Checks;
}>;

/**
 * Hours and calendar days of each probe in `timezone`, always those of all committed readings, as
 * corrected by the checks that were taken in.
 *
 * An hour gets its row from its readings in the transaction that brings the first reading of a
 * later hour, and a day from its hours likewise; a late reading then goes into both at once. Only
 * what is still open is summed when it is asked for. Rewriting the open hour and day at every
 * commit would say the same and only wear the flash card.
 */
export function openRollups(db: Database, timezone: string, parts: Parts) {
  const { probes, upkeep, readings, checks } = parts;
  const hours = openRollupTable(db, "hour");
  const days = openRollupTable(db, "day");
  const toHour = (atMs: number) => startOfLocalHour(atMs, timezone);
  const toDay = (atMs: number) => startOfLocalDay(atMs, timezone);

  /** Rows by probe and hour, as far as they count. */
  const gatherHours = (rows: Iterable<ReadingRow>): RollupRow[] =>
    gatherReadings(openCounting(checks.corrector(), probes)(rows), toHour);

  function closeHours(untilMs: number): void {
    const closedBeforeMs = upkeep.hoursClosedBeforeMs();
    if (untilMs <= closedBeforeMs) return;
    for (const some of inParts(readings.rows(closedBeforeMs, untilMs)))
      for (const row of gatherHours(some)) hours.add(row);
    upkeep.setHoursClosedBeforeMs(untilMs);
  }

  function closeDays(untilMs: number): void {
    const closedBeforeMs = upkeep.daysClosedBeforeMs();
    if (untilMs <= closedBeforeMs) return;
    for (const row of gatherRollups(hours.ofAll(closedBeforeMs, untilMs), toDay)) days.add(row);
    upkeep.setDaysClosedBeforeMs(untilMs);
  }

  // It changes whenever another connection has committed (SQLite, "PRAGMA data_version").
  const dataVersion = db.prepare<[], number>("PRAGMA data_version");
  dataVersion.pluck();
  const version = () => dataVersion.get()!;
  const toRollups = (rows: readonly RollupRow[]): Rollup[] =>
    rows.map((row) => toRollup(probes.idOf(probeNoOfKey(row.key)), startOfRow(row), row));
  const keptHours = openKeptBlocks<Rollup>({
    ...HOUR_BLOCKS,
    read: (probeNo, fromMs, toMs) => toRollups(hours.ofProbes([probeNo], fromMs, toMs)),
    version,
  });
  const readMinutes = openMinutes(db, probes, checks);
  const keptMinutes = openKeptBlocks<Rollup>({
    ...MINUTE_BLOCKS,
    read: readMinutes,
    version,
  });
  const forgetFrom = (atMs: number): void => {
    keptHours.forgetFrom(atMs);
    keptMinutes.forgetFrom(atMs);
    openHour = null;
  };

  /** Of the hour that is not over: every view asks for it, and several times. */
  let openHour: Readonly<{ version: number; rows: readonly RollupRow[] }> | null = null;
  function openRowsOf(probeNo: number): RollupRow[] {
    const now = version();
    if (openHour?.version !== now) {
      const rows = gatherHours(readings.rows(upkeep.hoursClosedBeforeMs(), Infinity));
      openHour = { version: now, rows };
    }
    return openHour.rows.filter(({ key }) => probeNoOfKey(key) === probeNo);
  }

  const within = (rollups: readonly Rollup[], fromMs: number, toMs: number): Rollup[] =>
    rollups.filter((rollup) => rollup.fromMs >= fromMs && rollup.fromMs < toMs);

  return {
    /** Take in rows that were stored just now and not before, in the same transaction. */
    add(rows: readonly ReadingRow[]): void {
      if (rows.length === 0) return;
      const hoursClosedMs = upkeep.hoursClosedBeforeMs();
      const daysClosedMs = upkeep.daysClosedBeforeMs();
      const late = rows.filter(({ key }) => takenAtMsOfKey(key) < hoursClosedMs);
      forgetFrom(late.reduce((ms, { key }) => Math.min(ms, takenAtMsOfKey(key)), hoursClosedMs));
      const lateHours = late.length === 0 ? [] : gatherHours(late);
      for (const row of lateHours) hours.add(row);
      const ofClosedDays = lateHours.filter((row) => startOfRow(row) < daysClosedMs);
      for (const row of gatherRollups(ofClosedDays, toDay)) days.add(row);
      const newestMs = rows.reduce((ms, { key }) => Math.max(ms, takenAtMsOfKey(key)), 0);
      closeHours(toHour(newestMs));
      closeDays(toDay(newestMs));
    },

    /**
     * Bring what is stored into this time zone, in one transaction. Days are made anew from their
     * hours. Where this zone's hours begin at other minutes, hours are made anew from raw
     * readings; those whose readings are pruned stay as they are and count to the day in which
     * they begin.
     */
    rebuild(): void {
      forgetFrom(Number.NEGATIVE_INFINITY);
      const rawFromMs = upkeep.prunedBeforeMs();
      const hoursClosedMs = upkeep.hoursClosedBeforeMs();
      const kept = hours.ofAll(rawFromMs, Infinity);
      if (kept.some((row) => toHour(startOfRow(row)) !== startOfRow(row))) {
        hours.removeFrom(rawFromMs);
        upkeep.setHoursClosedBeforeMs(rawFromMs);
        closeHours(toHour(hoursClosedMs));
      }
      days.removeFrom(0);
      upkeep.setDaysClosedBeforeMs(0);
      closeDays(toDay(upkeep.hoursClosedBeforeMs()));
    },

    /**
     * Make the hours and days of one probe anew from an instant on, in one transaction. Hours whose
     * raw readings are pruned stay as they are.
     */
    rebuildOf(probeId: string, fromMs: number): void {
      const probeNo = probes.of(probeId);
      if (probeNo === null) return;
      forgetFrom(Number.NEGATIVE_INFINITY);
      const hourMs = Math.max(toHour(fromMs), upkeep.prunedBeforeMs());
      const hoursClosedMs = upkeep.hoursClosedBeforeMs();
      hours.removeOfProbe(probeNo, hourMs);
      for (const some of inParts(readings.rowsOfProbe(probeNo, hourMs, hoursClosedMs)))
        for (const row of gatherHours(some)) hours.add(row);
      const dayMs = toDay(hourMs);
      days.removeOfProbe(probeNo, dayMs);
      const ofClosedDays = hours.ofProbes([probeNo], dayMs, upkeep.daysClosedBeforeMs());
      for (const row of gatherRollups(ofClosedDays, toDay)) days.add(row);
    },

    /** Start of the last hour with a row that a probe spoke in. */
    lastHourMs(probeId: string): number | null {
      const probeNo = probes.of(probeId);
      return probeNo === null ? null : hours.lastFromMs(probeNo);
    },

    /** What is kept in memory from this instant on may not hold any more. */
    forgetFrom,

    hours(probeId: string, fromMs: number, toMs: number): Rollup[] {
      const probeNo = probes.of(probeId);
      if (probeNo === null) return [];
      const closed = keptHours.of(probeNo, fromMs, toMs, upkeep.hoursClosedBeforeMs());
      return [...closed, ...within(toRollups(openRowsOf(probeNo)), fromMs, toMs)];
    },

    minutes(probeId: string, fromMs: number, toMs: number): Rollup[] {
      const probeNo = probes.of(probeId);
      if (probeNo === null) return [];
      // The last stretch holds only what came before `toMs`: a letter's picture knows no more.
      const evenMs = Math.floor(toMs / MINUTES_MS) * MINUTES_MS;
      const closedMs = upkeep.hoursClosedBeforeMs();
      const whole = keptMinutes.of(probeNo, fromMs, evenMs, closedMs);
      return evenMs < toMs
        ? [...whole, ...readMinutes(probeNo, Math.max(fromMs, evenMs), toMs)]
        : whole;
    },

    days(probeId: string, fromMs: number, toMs: number): Rollup[] {
      const probeNo = probes.of(probeId);
      if (probeNo === null) return [];
      const closedBeforeMs = upkeep.daysClosedBeforeMs();
      const closed = days.ofProbes([probeNo], fromMs, Math.min(toMs, closedBeforeMs));
      const hoursLeft = hours.ofProbes([probeNo], closedBeforeMs, Infinity);
      const open = gatherRollups([...hoursLeft, ...openRowsOf(probeNo)], toDay);
      return within(toRollups([...closed, ...open]), fromMs, toMs);
    },
  };
}

// The block that is not over is read anew at every asking, so that blocks are short.
/** A season of a dozen series, or some 10 MB; our choice. */
const HOUR_BLOCKS = { blockMs: 4 * DAY_MS, mostBlocks: 768 } as const;
/** Three days of a dozen series, or some 4 MB; our choice. */
const MINUTE_BLOCKS = { blockMs: 2 * HOUR_MS, mostBlocks: 432 } as const;

const PART_ROWS = 20_000;

/** A long walk in parts, so that a season that is made anew is never in memory whole. */
function* inParts(rows: Iterable<ReadingRow>): IterableIterator<ReadingRow[]> {
  let part: ReadingRow[] = [];
  for (const row of rows) {
    part.push(row);
    if (part.length < PART_ROWS) continue;
    yield part;
    part = [];
  }
  if (part.length > 0) yield part;
}
