import type { Calm } from "./calm.js";

/** A fault of a probe that has been told. */
export type ToldFault = Readonly<{
  excursionId: string;
  urgency: "note" | "visit";
  sinceMs: number;
  openedAtMs: number;
  /** What speaks for it, a clause that can follow "the probe said" or "compared with". */
  why: string;
}>;

/** Values of late that cannot be. */
export type Wild = Readonly<{
  sinceMs: number;
  lastMs: number;
  count: number;
  /** What the newest of them was, as a clause that can follow "the probe said". */
  why: string;
}>;

/** What is remembered of how well one probe measures. */
export type ProbeHealth = Readonly<{
  probeId: string;
  /** Its newest temperature that was let through, °C; null before one, and after an absence. */
  goodC: number | null;
  goodAtMs: number;
  /** A temperature far from the last one, held back until the next says whether it is so, °C. */
  doubtC: number | null;
  /** What it said last, as far as it can have been measured, and since when without a change. */
  saidC: number | null;
  saidPct: number | null;
  saidAtMs: number;
  sameSinceMs: number;
  /** The present calm, and the longest of late, ms. */
  calm: Calm | null;
  flatMs: number;
  /** Calms seen, up to as many as make a habit, and since when it has been listened to. */
  calms: number;
  knownSinceMs: number;
  wild: Wild | null;
  wildTold: ToldFault | null;
  stuckTold: ToldFault | null;
  /** End of the day under way, in UTC, and the sum of its temperatures. */
  dayEndMs: number;
  sumC: number;
  count: number;
  /** The last whole day, days since 1970 in UTC, and its mean; null before one. */
  wholeDay: number;
  meanC: number | null;
}>;

export function beginHealth(probeId: string): ProbeHealth {
  return {
    probeId,
    goodC: null,
    goodAtMs: 0,
    doubtC: null,
    saidC: null,
    saidPct: null,
    saidAtMs: 0,
    sameSinceMs: 0,
    calm: null,
    flatMs: 0,
    calms: 0,
    knownSinceMs: 0,
    wild: null,
    wildTold: null,
    stuckTold: null,
    dayEndMs: 0,
    sumC: 0,
    count: 0,
    wholeDay: 0,
    meanC: null,
  };
}
