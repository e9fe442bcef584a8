import type { JudgeState } from "../../../rules/judge.js";
import { darkNow } from "../../../rules/saw-again.js";
import { seasonOf } from "../../../rules/season.js";
import type { Quantity } from "../../../shared/check.js";
import type { Cause, DarkStretch, Excursion, Urgency } from "../../../shared/excursion.js";
import { formatRfc3339 } from "../../../shared/rfc3339.js";
import type { Site } from "../../../shared/site.js";
import { COPY_KEY, COPY_TROUBLE_KEY } from "../../copies/make-copy.js";
import { judgedSoFar } from "../../intake/judged-so-far.js";
import { clockSentence } from "../../keep/clock-note.js";
import { readTroubles, type Trouble } from "../../keep/troubles.js";
import { isLow } from "../../probes/battery.js";
import { gatherProbes, lastWeek, type ProbeStanding } from "../../probes/standing.js";
import { type FlatFigures, flatFigures } from "../../season/flat-figures.js";
import type { Delivery, Heard, Store } from "../../store/store.js";

/** How everything stands at one instant; what `drowse now --json` prints. Times are RFC 3339. */
export type Standing = Readonly<{
  site: string;
  at: string;
  /** The time of what was judged last; null before any reading. */
  judgedAt: string | null;
  chambers: readonly Readonly<{
    id: string;
    cocoonC: number | null;
    airC: number | null;
    humidityPct: number | null;
    /** The season's figures, as the replay's summary names them; null before any reading. */
    season: FlatFigures | null;
    /** The stretch that nobody sees at present, and what the cocoons can have reached in it. */
    dark: Readonly<{ sinceAt: string; coldestC: number; warmestC: number }> | null;
  }>[];
  open: readonly Readonly<{
    id: string;
    chamber: string | null;
    probe: string | null;
    cause: Cause;
    urgency: Urgency;
    startedAt: string;
    acknowledgedAt: string | null;
  }>[];
  probes: readonly Readonly<{
    id: string;
    heardAt: string | null;
    /** Corrected by the checks that `added` names; `asSent` is what came. */
    temperatureC: number | null;
    humidityPct: number | null;
    asSent: Readonly<{ temperatureC: number | null; humidityPct: number | null }>;
    added: Readonly<Record<Quantity, Readonly<{ check: string; amount: number }> | null>>;
    /** Share of the readings expected in the last seven days, 0 to 1. */
    heardShare: number | null;
    checkedAt: string | null;
    checkDueAt: string | null;
    isCheckOverdue: boolean;
    /** How far its last check found it from the one before, where that is sure. */
    /** As it was last said; low below the limit that `isLow` was told by. */
    battery: Readonly<{ value: number; unit: "%" | "V"; isLow: boolean; at: string }> | null;
    drifted: readonly Readonly<{ quantity: Quantity; moved: number; expanded: number }>[];
  }>[];
  mail: Readonly<{ waiting: number; givenUp: number; lastError: string | null }>;
  /** The last copy of the store, and why there is none since; null where nothing is to say. */
  copy: Readonly<{ at: string | null; file: string | null; trouble: string | null }>;
  /** A clock that was set of late, in words; null where it was not. */
  clock: string | null;
  /** Why nothing can be stored at present; null where it can. */
  unwritable: string | null;
  /** What of Drowse does not work at present. */
  troubles: readonly Trouble[];
  /** Messages that became no reading, by reason. */
  unread: Readonly<Record<string, number>>;
}>;

/** Gather how everything stands from the store, with what the judge makes of it. */
export function gatherStanding(
  store: Store,
  site: Site,
  atMs: number,
  judged: JudgeState | null = judgedSoFar(store, site),
  probes: readonly ProbeStanding[] = gatherProbes(store, site, atMs, lastWeek(atMs)),
): Standing {
  const season = judged === null ? [] : seasonOf(judged, site);
  return {
    site: site.name,
    at: formatRfc3339(atMs),
    judgedAt: judged === null || judged.nowMs === 0 ? null : formatRfc3339(judged.nowMs),
    chambers: site.chambers.map((chamber) => {
      const { id } = chamber;
      const state = judged?.chambers.find(({ chamberId }) => chamberId === id);
      const { airC = null, humidityPct = null } = state ?? {};
      const figures = season.find(({ chamberId, fromMs }) => chamberId === id && fromMs !== null);
      return {
        id,
        cocoonC: state?.cocoon.cocoonC ?? null,
        airC,
        humidityPct,
        season: figures === undefined ? null : flatFigures(figures),
        dark: state === undefined ? null : toDark(darkNow(state, atMs, chamber)),
      };
    }),
    open: store.excursions.open().map(toOpen),
    probes: probes.map(toProbe),
    mail: toMail(store.letters.undelivered()),
    clock: clockSentence(store, atMs),
    unwritable: store.unwritable(),
    troubles: readTroubles(store),
    copy: toCopy(store),
    unread: countUnread(store.heard.list()),
  };
}

function toDark(stretch: DarkStretch | null): Standing["chambers"][number]["dark"] {
  if (stretch === null) return null;
  const { fromMs, coldestC, warmestC } = stretch;
  return { sinceAt: formatRfc3339(fromMs), coldestC, warmestC };
}

function toProbe(probe: ProbeStanding): Standing["probes"][number] {
  const { raw, latest, corrections, check, battery } = probe;
  const added = (quantity: Quantity) => {
    const held = corrections[quantity];
    return held === null ? null : { check: held.checkId, amount: held.added };
  };
  return {
    id: probe.probeId,
    heardAt: raw === null ? null : formatRfc3339(raw.takenAtMs),
    temperatureC: latest?.temperatureC ?? null,
    humidityPct: latest?.humidityPct ?? null,
    asSent: { temperatureC: raw?.temperatureC ?? null, humidityPct: raw?.humidityPct ?? null },
    added: { temperature: added("temperature"), humidity: added("humidity") },
    heardShare: probe.heardShare,
    checkedAt: check === null ? null : formatRfc3339(check.lastMs),
    checkDueAt: check === null ? null : formatRfc3339(check.dueMs),
    isCheckOverdue: check?.isOverdue ?? false,
    battery: battery && {
      value: battery.value,
      unit: battery.unit,
      isLow: isLow(battery),
      at: formatRfc3339(battery.atMs),
    },
    drifted: probe.drifts.map((item) => {
      const { moved, expanded } = item.drift!;
      return { quantity: item.check.quantity, moved, expanded };
    }),
  };
}

function toOpen(excursion: Excursion): Standing["open"][number] {
  const { id, chamberId, probeId, cause, urgency, startedAtMs, acknowledgedAtMs } = excursion;
  return {
    id,
    chamber: chamberId,
    probe: probeId,
    cause,
    urgency,
    startedAt: formatRfc3339(startedAtMs),
    acknowledgedAt: acknowledgedAtMs === null ? null : formatRfc3339(acknowledgedAtMs),
  };
}

function toMail(undelivered: readonly Delivery[]): Standing["mail"] {
  const givenUp = undelivered.filter((delivery) => delivery.givenUpAtMs !== null).length;
  const lastError = undelivered.findLast((delivery) => delivery.lastError !== null)?.lastError;
  return { waiting: undelivered.length - givenUp, givenUp, lastError: lastError ?? null };
}

function toCopy({ board }: Store): Standing["copy"] {
  const [, at = null, file = null] = board.read(COPY_KEY)?.match(/^(\S+) (.+)$/s) ?? [];
  return { at, file, trouble: board.read(COPY_TROUBLE_KEY) || null };
}

function countUnread(heard: readonly Heard[]): Record<string, number> {
  const counts: Record<string, number> = {};
  for (const { outcome, count } of heard)
    if (outcome !== "reading") counts[outcome] = (counts[outcome] ?? 0) + count;
  return counts;
}
