import type { CheckMade } from "../../../daemon/checks/record.js";
import { weighCheck } from "../../../rules/checks/result.js";
import { DAY_MS } from "../../../shared/time.js";

/** A check that finds a probe at Quillmere so much too high; `change` what the test is about. */
export function madeCheck(highBy: number, change: Partial<CheckMade> = {}): CheckMade {
  const { madeAtMs = Date.UTC(2026, 10, 25, 10) } = change;
  const pairs = [0, 0, 0].map((reference) => ({ atMs: null, probe: highBy, reference }));
  const result = weighCheck({ pairs, fit: "offset", tolerance: 0.5, before: null, components: [] });
  return {
    kind: "check",
    id: `shed-air.temperature.${madeAtMs}`,
    madeAtMs,
    probeId: "shed-air",
    quantity: "temperature",
    reference: { kind: "ice" },
    pairs,
    steps: { probe: 0.1, reference: null },
    tolerance: 0.5,
    result,
    holdsFromMs: madeAtMs,
    dueAtMs: madeAtMs + 365 * DAY_MS,
    by: null,
    note: null,
    ...change,
  };
}
