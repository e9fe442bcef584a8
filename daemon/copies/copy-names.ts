import { localDay } from "../../shared/site-calendar.js";

const NAME = /^drowse-(\d{4}-\d{2}-\d{2})\.db$/;
/** The newest copies, one a day; our choice: a fault is seen within a week. */
const DAYS_KEPT = 7;
/** Beside them the newest of each month; our choice: a wintering, and its year. */
const MONTHS_KEPT = 12;

/** The name of a copy made at an instant: one a day of the site, so that days sort as names do. */
export function copyNameOf(atMs: number, timezone: string): string {
  return `drowse-${localDay(atMs, timezone)}.db`;
}

/** The names of copies among other names, newest first. */
export function copiesAmong(names: readonly string[]): string[] {
  return names.filter((name) => NAME.test(name)).sort((a, b) => (a < b ? 1 : -1));
}

/**
 * The copies that may go: neither of the newest seven, nor the newest of their month, for twelve
 * months that have one.
 *
 * @param names all names in the folder; what is no copy is left alone
 */
export function outlivedCopies(names: readonly string[]): string[] {
  const copies = copiesAmong(names);
  const kept = new Set(copies.slice(0, DAYS_KEPT));
  const months = new Set<string>();
  for (const name of copies) {
    const month = NAME.exec(name)![1]!.slice(0, 7);
    if (!months.has(month) && months.size < MONTHS_KEPT) kept.add(name);
    months.add(month);
  }
  return copies.filter((name) => !kept.has(name));
}
