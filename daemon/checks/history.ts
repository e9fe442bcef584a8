import { type CheckDrift, driftBetween } from "../../rules/checks/drift.js";
import { HOUR_MS } from "../../shared/time.js";
import { layTable } from "../cli/table.js";
import { oneLine } from "../letters/one-line.js";
import type { TemperatureUnit } from "../letters/temperature-words.js";
import { dateWords } from "../letters/time-words.js";
import { type CheckEntry, type CheckMade, standingChecks } from "./record.js";
import {
  correctionWords,
  differenceWords,
  referenceWords,
  valueWords,
  verdictWords,
} from "./words.js";

/** One check of the history, and how the probe had moved since the check before it. */
export type HistoryItem = Readonly<{
  check: CheckMade;
  /** Who was wrong says so; null while it counts. */
  withdrawnAtMs: number | null;
  /** Against the last check before it that counts; null for the first, or one withdrawn. */
  drift: (CheckDrift & Readonly<{ days: number }>) | null;
}>;

/** The history, oldest first, of one probe or of all. */
export function historyOf(entries: readonly CheckEntry[], probeId: string | null): HistoryItem[] {
  const standing = standingChecks(entries);
  return entries.flatMap((entry): HistoryItem[] => {
    if (entry.kind !== "check" || (probeId !== null && entry.probeId !== probeId)) return [];
    const withdrawal = entries.find((e) => e.kind === "withdrawal" && e.checkId === entry.id);
    return [
      {
        check: entry,
        withdrawnAtMs: withdrawal?.madeAtMs ?? null,
        drift: withdrawal === undefined ? driftTo(entry, standing) : null,
      },
    ];
  });
}

function driftTo(check: CheckMade, standing: readonly CheckMade[]): HistoryItem["drift"] {
  const earlier = standing.findLast(
    ({ probeId, quantity, madeAtMs }) =>
      probeId === check.probeId && quantity === check.quantity && madeAtMs < check.madeAtMs,
  );
  if (earlier === undefined) return null;
  const checked = ({ madeAtMs, result }: CheckMade) => ({
    madeAtMs,
    correction: result.correction,
    expanded: result.budget.expanded,
  });
  const days = (check.madeAtMs - earlier.madeAtMs) / (24 * HOUR_MS);
  return { ...driftBetween(checked(earlier), checked(check)), days };
}

/** A history as text, a block for each check. */
export function showHistory(
  items: readonly HistoryItem[],
  timezone: string,
  unit: TemperatureUnit,
): string {
  if (items.length === 0) return "No check was made yet. drowse check begins one.\n";
  return `${items.map((item) => showItem(item, timezone, unit)).join("\n\n")}\n`;
}

function showItem(
  { check, withdrawnAtMs, drift }: HistoryItem,
  timezone: string,
  unit: TemperatureUnit,
) {
  const { quantity, result, holdsFromMs } = check;
  const saying = { quantity, unit };
  const { expanded } = result.budget;
  const rows = [
    ["  against", referenceWords(check.reference, unit)],
    [
      "  correction",
      `${correctionWords(result.correction, saying)}, ± ${differenceWords(expanded, saying)}`,
    ],
    ["  as found", verdictWords(result.asFound.verdict)],
    [
      "  holds from",
      holdsFromMs === null ? "never, for the record only" : dateWords(holdsFromMs, timezone),
    ],
    ["  due again", dateWords(check.dueAtMs, timezone)],
    ...(drift === null ? [] : [["  since the last", driftWords(drift, saying)]]),
    ...(check.note === null ? [] : [["  note", oneLine(check.note, 120)]]),
    ...(withdrawnAtMs === null ? [] : [["  withdrawn", dateWords(withdrawnAtMs, timezone)]]),
  ];
  const made = dateWords(check.madeAtMs, timezone);
  const head = `${made}  ${oneLine(check.probeId, 60)}, ${quantity}  ${check.id}`;
  return `${head}\n${layTable(["", ""], rows).replace(/^\s*\n/, "")}`;
}

function driftWords(
  drift: NonNullable<HistoryItem["drift"]>,
  saying: Parameters<typeof valueWords>[1],
) {
  const { moved, expanded, isSeen, at, days } = drift;
  const size = `${differenceWords(Math.abs(moved), saying)}, ± ${differenceWords(expanded, saying)}`;
  const when = `at ${valueWords(at, saying)} in ${Math.round(days)} days`;
  if (!isSeen) return `no drift to be seen (${size} ${when})`;
  return `shows ${size} ${moved > 0 ? "more" : "less"} ${when}`;
}
