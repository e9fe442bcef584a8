import { correctionAt, type HeldCorrection, type Quantity } from "../../shared/check.js";
import type { Excursion } from "../../shared/excursion.js";
import type { Reading } from "../../shared/reading.js";
import type { Place, Probe, Site } from "../../shared/site.js";
import { DAY_MS } from "../../shared/time.js";
import { type HistoryItem, historyOf } from "../checks/history.js";
import { standingChecks } from "../checks/record.js";
import { heardShareOf, seenMsIn } from "../digest/heard-share.js";
import type { Store } from "../store/store.js";
import { type BatteryNoted, readBattery } from "./battery.js";

/** What is added to the present value of one quantity, in its unit, and by which check. */
type InForce = Readonly<{ checkId: string; madeAtMs: number; added: number }>;

/** How far one probe can be believed, as of an instant. */
export type ProbeStanding = Readonly<{
  probeId: string;
  chamberId: string | null;
  place: Place;
  /** The newest reading as it came, and as it is corrected; null before the first. */
  raw: Reading | null;
  latest: Reading | null;
  /** Of the readings that its interval promises for hours in which any probe was heard, 0 to 1. */
  heardShare: number | null;
  corrections: Readonly<Record<Quantity, InForce | null>>;
  /** The last check that stands, and when the next is due; null where it was never checked. */
  check: Readonly<{ lastMs: number; dueMs: number; isOverdue: boolean }> | null;
  /** How its newest checks found that it moved since those before; only what is seen for sure. */
  drifts: readonly HistoryItem[];
  /** What is open of its own faults. */
  faults: readonly Excursion[];
  /** What it last said of its battery; null where it never did. */
  battery: BatteryNoted | null;
}>;

type ProbesStore = Pick<Store, "readings" | "rollups" | "checks" | "excursions" | "board">;

/** The span that `drowse now` and the pages count readings over: the last seven days. */
export const lastWeek = (nowMs: number) => ({ fromMs: nowMs - 7 * DAY_MS, toMs: nowMs });

/** Gather from the store how every probe stands; the share of readings is over `span`. */
export function gatherProbes(
  store: ProbesStore,
  site: Site,
  nowMs: number,
  span: Readonly<{ fromMs: number; toMs: number }>,
): readonly ProbeStanding[] {
  const hours = site.probes.flatMap(({ id }) => store.rollups.hours(id, span.fromMs, span.toMs));
  const firstMs = Math.min(...hours.map(({ fromMs }) => fromMs));
  const seenMs = seenMsIn(hours, { fromMs: Math.max(span.fromMs, firstMs), toMs: span.toMs });
  const corrector = store.checks.corrector();
  const open = store.excursions.open();
  return site.probes.map((probe) => {
    const raw = store.readings.latest(probe.id);
    const inForce = (quantity: Quantity, value: number | null | undefined): InForce | null => {
      const held = corrector.inForce(probe.id, quantity, raw?.takenAtMs ?? nowMs);
      return held === null ? null : asAdded(held, value ?? held.correction.pivot);
    };
    return {
      probeId: probe.id,
      chamberId: probe.chamberId,
      place: probe.place,
      raw,
      latest: raw === null ? null : corrector.correct(raw),
      heardShare: heardShareOf(probe, hours, seenMs),
      corrections: {
        temperature: inForce("temperature", raw?.temperatureC),
        humidity: inForce("humidity", raw?.humidityPct),
      },
      check: checkOf(store, probe, nowMs),
      drifts: driftsOf(store, probe),
      battery: readBattery(store, probe.id),
      faults: open.filter(
        ({ probeId, cause }) => probeId === probe.id && cause.startsWith("probe-"),
      ),
    };
  });
}

function asAdded({ checkId, madeAtMs, correction }: HeldCorrection, value: number): InForce {
  return { checkId, madeAtMs, added: correctionAt(correction, value) };
}

/** The last check of each quantity of a probe that stands. */
function lastChecks({ checks }: Pick<Store, "checks">, probeId: string) {
  const standing = standingChecks(checks.entries()).filter((one) => one.probeId === probeId);
  return (["temperature", "humidity"] as const).flatMap(
    (quantity) => standing.findLast((one) => one.quantity === quantity) ?? [],
  );
}

/** When a probe was last checked, and when what was checked of it is due; null before a check. */
export function checkOf(
  store: Pick<Store, "checks">,
  { id }: Pick<Probe, "id">,
  nowMs: number,
): ProbeStanding["check"] {
  const last = lastChecks(store, id);
  if (last.length === 0) return null;
  const dueMs = Math.min(...last.map((one) => one.dueAtMs));
  const lastMs = Math.max(...last.map(({ madeAtMs }) => madeAtMs));
  return { lastMs, dueMs, isOverdue: dueMs <= nowMs };
}

/** How a probe moved up to its newest checks, where it did for sure. */
export function driftsOf(store: Pick<Store, "checks">, { id }: Pick<Probe, "id">): HistoryItem[] {
  const newest = new Set(lastChecks(store, id).map((check) => check.id));
  return historyOf(store.checks.entries(), id).filter(
    ({ check, drift }) => newest.has(check.id) && drift?.isSeen === true,
  );
}
