/** How often a store is written, and how long an acknowledgement may wait for it. */
export type PacingRule = Readonly<{
  /** Pending readings that are worth a commit of their own. */
  groupCount: number;
  /** Longest wait of a pending reading, ms; also what earns one early commit. */
  groupMs: number;
  /** Quiet after the last arrival that lets an early commit go, ms. */
  quietMs: number;
  /** An arrival so soon after a commit had waited for its acknowledgements, ms. */
  chaseMs: number;
  /** Quiet that lets a commit go which a sender waits for, ms. */
  chasedQuietMs: number;
  /** Readings that earn one early commit. */
  readingsPerCredit: number;
  /** Most early commits that can be saved up. */
  creditsMost: number;
}>;

/** What is left of the write allowance, as of the last commit or the start. */
export type Pacing = Readonly<{ credits: number; committedAtMs: number }>;

/** What waits to be committed; times on the same clock as the pacing's, ms. */
export type Waiting = Readonly<{ count: number; oldestAtMs: number; newestAtMs: number }>;

/**
 * The defaults; our choice. A lone sensor has its acknowledgement within 50 ms of quiet, for ever;
 * six that each speak every 10 s use up their allowance in a few minutes and settle to a commit or
 * two a minute, so that a flash card lives.
 *
 * A sender that keeps no more than one message on its way would get no more than that through in
 * a minute, and its queue would grow for ever. So what comes on the heels of an acknowledgement is
 * taken to have waited for it, and committed without touching the allowance.
 */
export function pacingRule(groupCount: number, groupMs: number): PacingRule {
  return {
    groupCount,
    groupMs: Math.max(1, groupMs),
    quietMs: 50,
    chaseMs: 250,
    chasedQuietMs: 5,
    readingsPerCredit: 64,
    creditsMost: 250,
  };
}

/** A full allowance: whoever sets Drowse up sees the first readings acknowledged at once. */
export function beginPacing(rule: PacingRule, nowMs: number): Pacing {
  return { credits: rule.creditsMost, committedAtMs: nowMs };
}

/**
 * When what waits is to be committed, ms on the pacing's clock; at or before now means at once.
 * Never later than `groupMs` after the oldest arrival.
 */
export function commitDueAtMs(pacing: Pacing, waiting: Waiting, rule: PacingRule): number {
  if (waiting.count >= rule.groupCount) return waiting.newestAtMs;
  const latestMs = waiting.oldestAtMs + rule.groupMs;
  if (isChased(pacing, waiting, rule))
    return Math.min(latestMs, waiting.newestAtMs + rule.chasedQuietMs);
  const creditAtMs = pacing.committedAtMs + (1 - pacing.credits) * rule.groupMs;
  return Math.min(latestMs, Math.max(waiting.newestAtMs + rule.quietMs, creditAtMs));
}

/** The allowance after a commit: time and readings earn, and a commit costs one credit. */
export function spendCommit(
  pacing: Pacing,
  waiting: Waiting,
  nowMs: number,
  rule: PacingRule,
): Pacing {
  const { count } = waiting;
  const earned = (nowMs - pacing.committedAtMs) / rule.groupMs + count / rule.readingsPerCredit;
  const credits = Math.min(rule.creditsMost, pacing.credits + earned);
  const cost = isChased(pacing, waiting, rule) ? 0 : 1;
  return { credits: Math.max(0, credits - cost), committedAtMs: nowMs };
}

function isChased(pacing: Pacing, waiting: Waiting, rule: PacingRule): boolean {
  return waiting.oldestAtMs - pacing.committedAtMs <= rule.chaseMs;
}
