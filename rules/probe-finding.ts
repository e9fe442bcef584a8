import type { Finding } from "../shared/excursion.js";
import type { Probe } from "../shared/site.js";
import { MINUTE_MS } from "../shared/time.js";
import type { ChamberState } from "./chamber-state.js";

/** What is wrong with probes this close together is one matter: a bus, a radio, power. Our choice. */
export const TOGETHER_MS = 10 * MINUTE_MS;

/** What is wrong with a probe, as far as a finding tells of it. */
type Told = Readonly<{ excursionId: string; urgency: "note" | "visit"; sinceMs: number }>;
type Saying = Pick<Finding, "cause" | "change" | "atMs" | "comparedWith" | "beside">;

/** A finding about a probe, with its chamber's present; it costs the cocoons nothing by itself. */
export function probeFinding(
  probe: Probe,
  { excursionId, urgency, sinceMs }: Told,
  chambers: readonly ChamberState[],
  { atMs, cause, change, ...saying }: Saying,
): Finding {
  const chamber = chambers.find((c) => c.chamberId === probe.chamberId);
  const nothing = { degreeHoursAbove: 0, degreeHoursBelow: 0, reserveDays: 0 };
  return {
    atMs,
    chamberId: probe.chamberId,
    probeId: probe.id,
    excursionId,
    change,
    cause,
    urgency,
    startedAtMs: sinceMs,
    cocoonC: chamber?.cocoon.cocoonC ?? null,
    airC: chamber?.airC ?? null,
    humidityPct: chamber?.humidityPct ?? null,
    cocoonSpanC: null,
    cost: { ...nothing, wetHours: null, mouldIndex: null },
    forecast: null,
    ...saying,
  };
}
