import { fitLine } from "./straight-line.js";

/** One value of a probe that is being checked, in the unit of its quantity. */
export type Sample = Readonly<{ atMs: number; value: number }>;

/** What steady means. Values in the unit of the quantity. */
export type SteadyRule = Readonly<{
  /** The stretch of time that is looked at, ms, up to the newest sample. */
  overMs: number;
  /** Samples that it must hold at least. */
  samplesLeast: number;
  /** Most change over the stretch, by a straight line. */
  driftMost: number;
  /** Most scatter about that line, standard deviation. */
  scatterMost: number;
  /** Silence after which nothing is said of the present, ms. */
  silentMs: number;
}>;

/** Whether values stand still, and why not yet. */
export type Steadiness =
  | Readonly<{ kind: "steady"; mean: number; samples: number }>
  | Readonly<{ kind: "silent"; forMs: number }>
  /** `forMs` is how long the samples so far reach. */
  | Readonly<{ kind: "too-few"; samples: number; forMs: number }>
  /** Change over the stretch; the sign says where to. */
  | Readonly<{ kind: "drifting"; drift: number }>
  | Readonly<{ kind: "restless"; scatter: number }>;

/**
 * Whether the newest samples stand still.
 *
 * @param samples oldest first
 * @param step the smallest step the probe can make: what is finer than half of it can't be asked of
 *   it; 0 where it is not known
 */
export function steadinessOf(
  samples: readonly Sample[],
  nowMs: number,
  rule: SteadyRule,
  step = 0,
): Steadiness {
  const newest = samples.at(-1);
  if (newest === undefined) return { kind: "too-few", samples: 0, forMs: 0 };
  if (nowMs - newest.atMs > rule.silentMs) return { kind: "silent", forMs: nowMs - newest.atMs };
  const looked = lookedAt(samples, newest.atMs, rule);
  const forMs = newest.atMs - looked[0]!.atMs;
  // Samples rarely lie just at the edge of the stretch, so a little less of it will do.
  if (looked.length < rule.samplesLeast || forMs < 0.8 * rule.overMs)
    return { kind: "too-few", samples: looked.length, forMs };
  const line = fitLine(looked.map(({ atMs, value }) => ({ x: atMs - newest.atMs, y: value })));
  const drift = line.slope * rule.overMs;
  if (Math.abs(drift) > rule.driftMost + step / 2) return { kind: "drifting", drift };
  if (line.residualSd > rule.scatterMost + step / 2)
    return { kind: "restless", scatter: line.residualSd };
  return { kind: "steady", mean: line.atPivot, samples: looked.length };
}

/** The stretch, or as many samples as are needed where a slow probe fills it with fewer. */
function lookedAt(samples: readonly Sample[], toMs: number, rule: SteadyRule): readonly Sample[] {
  const inTime = samples.filter(({ atMs }) => toMs - atMs <= rule.overMs);
  return inTime.length >= rule.samplesLeast ? inTime : samples.slice(-rule.samplesLeast);
}

/**
 * The smallest step between values that are not the same, as a hint at what a display resolves.
 *
 * @returns null where all are the same. Differences under a millionth are rounding.
 */
export function stepOf(values: readonly number[]): number | null {
  const sorted = [...values].sort((a, b) => a - b);
  let step: number | null = null;
  for (let i = 1; i < sorted.length; i++) {
    const apart = sorted[i]! - sorted[i - 1]!;
    if (apart > 1e-6 && (step === null || apart < step)) step = apart;
  }
  return step === null ? null : Number(step.toPrecision(6));
}
