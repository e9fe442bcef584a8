import { dampByCalendar } from "../../rules/dries-on.js";
import type { ChamberFigures } from "../../rules/season.js";
import { type Due, type DueChamber, type DueProbe, listDue } from "../../rules/year/due.js";
import { entriesThatHold } from "../../rules/year/journal-view.js";
import type { CalendarDay } from "../../shared/calendar-day.js";
import type { ActKind, Entry } from "../../shared/journal.js";
import type { Site } from "../../shared/site.js";
import { localDay } from "../../shared/site-calendar.js";
import type { Config } from "../config.js";
import { seasonSoFar } from "../digest/season-figures.js";
import { type LotReport, reportLots } from "../journal/lot-report.js";
import { checkOf, driftsOf } from "../probes/standing.js";
import type { Store } from "../store/store.js";
import { judgeLots, type ReleaseReport } from "./judge-lots.js";

/** What the year asks of the keeper as of an instant. */
export type YearReport = Readonly<{
  today: CalendarDay;
  lots: readonly LotReport[];
  due: readonly Due[];
  /** null while no lot is in the cold. */
  release: ReleaseReport | null;
}>;

/** Of a config, what the year hangs on. */
export type YearConfig = Pick<Config, "site" | "year" | "release">;

type YearStore = Pick<
  Store,
  "journal" | "rollups" | "excursions" | "judge" | "checks" | "readings"
>;

/** Gather from the store what is due, and whether lots may be let go. */
export function gatherYear(store: YearStore, config: YearConfig, nowMs: number): YearReport {
  const { site, year } = config;
  const dayOf = (atMs: number) => localDay(atMs, site.timezone);
  const holding = entriesThatHold(store.journal.soFar().entries);
  const lots = reportLots(store, site, nowMs);
  const cold = lots.filter(({ chamberId }) => chamberId !== null);
  const release = cold.length === 0 ? null : judgeLots(store, config, cold, holding, nowMs);
  const figures = seasonSoFar(store, site, nowMs)?.chambers ?? [];
  const due = listDue(
    {
      chambers: site.chambers.flatMap(({ id }): DueChamber[] => {
        const filledMs = filledSinceMs(id, cold);
        const judged = figures.find(({ chamberId }) => chamberId === id) ?? null;
        return filledMs === null ? [] : [dueChamber(id, filledMs, judged, holding, site)];
      }),
      probes: dueProbes(store, site, nowMs),
      samples: cold.flatMap(({ lot, samples }) =>
        samples.map(({ label, weighings }) => {
          const weighedOn = dayOf(Math.max(...weighings.map(({ atMs }) => atMs)));
          return { lotId: lot.id, label, weighedOn };
        }),
      ),
      lots: cold.map(({ lot, coldFromOn, latestOn }) => {
        return { lotId: lot.id, coldFromOn: coldFromOn!, latestOn };
      }),
      stages: release?.stages ?? [],
    },
    year,
  );
  return { today: dayOf(nowMs), lots, due, release };
}

/** When each probe is to be checked: by the last checks of it that stand. */
function dueProbes(
  store: Pick<YearStore, "checks" | "rollups">,
  site: Site,
  nowMs: number,
): readonly DueProbe[] {
  const dayOf = (atMs: number) => localDay(atMs, site.timezone);
  return site.probes.map((probe) => {
    const check = checkOf(store, probe, nowMs);
    const first = store.rollups.days(probe.id, 0, nowMs + 1)[0];
    return {
      probeId: probe.id,
      checkOn: check === null ? null : dayOf(check.dueMs),
      firstHeardOn: first === undefined ? null : dayOf(first.fromMs),
      isDrifting: driftsOf(store, probe).length > 0,
    };
  });
}

/** Since when there has been a lot in a chamber without a break; null where there is none now. */
function filledSinceMs(chamberId: string, cold: readonly LotReport[]): number | null {
  const stays = cold
    .flatMap(({ course }) => course.stays)
    .filter((stay) => stay.chamberId === chamberId)
    .sort((a, b) => a.fromMs - b.fromMs);
  let sinceMs: number | null = null;
  let untilMs = Number.NEGATIVE_INFINITY;
  for (const { fromMs, toMs } of stays) {
    if (sinceMs === null || fromMs > untilMs) sinceMs = fromMs;
    untilMs = Math.max(untilMs, toMs ?? Number.POSITIVE_INFINITY);
  }
  return untilMs === Number.POSITIVE_INFINITY ? sinceMs : null;
}

function dueChamber(
  chamberId: string,
  filledMs: number,
  judged: ChamberFigures | null,
  holding: readonly Entry[],
  site: Site,
): DueChamber {
  const dayOf = (atMs: number) => localDay(atMs, site.timezone);
  const lastMs = (kind: ActKind): number | null =>
    holding.findLast((entry) => entry.chamberId === chamberId && entry.act.kind === kind)?.atMs ??
    null;
  const [dampedMs, inspectedMs] = [lastMs("damped"), lastMs("inspected")];
  const since = Math.max(filledMs, dampedMs ?? 0);
  const band = site.chambers.find(({ id }) => id === chamberId)!.humidityBandPct;
  const humidityPct = judged?.cocoonHumidityPct ?? null;
  const dryOn = judged?.dryOn ?? null;
  return {
    chamberId,
    filledOn: dayOf(filledMs),
    dampedOn: dampedMs === null ? null : dayOf(dampedMs),
    inspectedOn: inspectedMs === null ? null : dayOf(inspectedMs),
    driesOn: dryOn?.basis === "trend" ? dayOf(dryOn.atMs) : null,
    calendarOn: dayOf(dampByCalendar(since).atMs),
    isDampEnough: humidityPct === null ? null : humidityPct > band.high,
  };
}
