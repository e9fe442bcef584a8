import type { Finding } from "../../shared/excursion.js";
import type { Probe } from "../../shared/site.js";
import type { ChamberState } from "../chamber-state.js";
import { probeFinding, TOGETHER_MS } from "../probe-finding.js";
import type { ToldFault } from "./health.js";

/** A fault of a probe as a finding. */
export function faultFinding(
  probe: Probe,
  told: ToldFault,
  cause: Extract<Finding["cause"], "probe-wild" | "probe-stuck" | "probe-drift">,
  change: Finding["change"],
  atMs: number,
  chambers: readonly ChamberState[],
): Finding {
  return probeFinding(probe, told, chambers, { atMs, cause, change, comparedWith: told.why });
}

/** Whether a fault that began at the same time has sent the keeper on the way already. */
export function isTogether(others: Iterable<ToldFault | null>, sinceMs: number): boolean {
  for (const fault of others)
    if (fault?.urgency === "visit" && Math.abs(sinceMs - fault.sinceMs) < TOGETHER_MS) return true;
  return false;
}
