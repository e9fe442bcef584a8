import type { Finding } from "../../shared/excursion.js";
import type { Probe } from "../../shared/site.js";
import { MINUTE_MS } from "../../shared/time.js";
import type { ChamberState } from "../chamber-state.js";
import type { ToldFault } from "./health.js";

/** Faults that begin this close together are one matter: a bus, a supply, a radio. Our choice. */
const TOGETHER_MS = 10 * MINUTE_MS;

/** A fault of a probe as a finding. */
export function faultFinding(
  probe: Probe,
  told: ToldFault,
  cause: Extract<Finding["cause"], "probe-wild" | "probe-stuck" | "probe-drift">,
  change: Finding["change"],
  atMs: number,
  chambers: readonly ChamberState[],
): Finding {
  const chamber = chambers.find((c) => c.chamberId === probe.chamberId);
  const nothing = { degreeHoursAbove: 0, degreeHoursBelow: 0, reserveDays: 0 };
  return {
    atMs,
    chamberId: probe.chamberId,
    probeId: probe.id,
    excursionId: told.excursionId,
    change,
    cause,
    urgency: told.urgency,
    startedAtMs: told.sinceMs,
    cocoonC: chamber?.cocoon.cocoonC ?? null,
    airC: chamber?.airC ?? null,
    humidityPct: chamber?.humidityPct ?? null,
    cocoonSpanC: null,
    comparedWith: told.why,
    cost: { ...nothing, wetHours: null, mouldIndex: null },
    forecast: null,
  };
}

/** Whether a fault that began at the same time has sent the keeper on the way already. */
export function isTogether(others: Iterable<ToldFault | null>, sinceMs: number): boolean {
  for (const fault of others)
    if (fault?.urgency === "visit" && Math.abs(sinceMs - fault.sinceMs) < TOGETHER_MS) return true;
  return false;
}
