import { MINUTE_MS, SECOND_MS } from "../../shared/time.js";
import type { Clock } from "../clock.js";
import type { Log } from "../mqtt/arrival-desk.js";
import { isDamage, isDiskTrouble } from "../store/failures.js";
import type { JudgeMemory, NewLetter, Store } from "../store/store.js";
import {
  beginPacing,
  commitDueAtMs,
  pacingRule,
  spendCommit,
  type Waiting,
} from "./commit-pacing.js";
import type { HeardTally } from "./heard-tally.js";
import type { PendingGroup } from "./pending-group.js";

type LoopPorts = Readonly<{
  pending: PendingGroup;
  tally: HeardTally;
  store: Pick<Store, "commit">;
  keepers: readonly string[];
  clock: Clock;
  log: Log;
  groupCount: number;
  groupMs: number;
  remember(): JudgeMemory;
  /** So many readings were committed together. */
  onGroup(readings: number): void;
  onLetters(): void;
  onRoom(): void;
  /** SQLite found the store damaged. */
  onDamaged(error: unknown): void;
  /** The store can't be written for a while now; these letters wait for it. */
  onStranded(letters: readonly NewLetter[], stranded: Stranded): void;
  /** What was stranded is stored; called before `onLetters`. */
  onStored(): void;
}>;

/** Since when the store can't be written, on the clock that never jumps, and why. */
export type Stranded = Readonly<{ forMs: number; error: unknown }>;

/**
 * How often the judge's memory and the counts of topics are stored though nothing happened. Our
 * choice: a start judges so much again within a second, and oftener would be a third of all bytes.
 */
export const REMEMBER_EVERY_MS = 10 * MINUTE_MS;
/** Timers run by the machine's clock, and a rehearsal's clock is faster. */
const LOOK_AGAIN_MS = SECOND_MS;
/**
 * Our choice: in a flood one socket chunk can hold a thousand readings, and several come at once.
 * Committed in such parts, the sender has the first acknowledgements while the rest is still worked
 * on. Smaller parts would cost more in waiting for the disk than that gains.
 */
const FLOOD_COUNT = 512;
const RETRY_FIRST_MS = SECOND_MS;
const RETRY_MOST_MS = MINUTE_MS;
/** A store that has failed this long may be mended by a restart: let the watchdog see it. A full
 * disk is not, and what is judged from memory would be gone. */
const GIVE_UP_TURNING_MS = 10 * MINUTE_MS;
/** Our choice: longer than a lock or a slow card lasts, short against a door left ajar. */
const STRANDED_AFTER_MS = 30 * SECOND_MS;

/** Decides when the pending group is committed, and sees to what follows. */
export type CommitLoop = Readonly<{
  /** Something was added to the pending group. */
  schedule(): void;
  /** Commit at once, unless the store has just failed and is left alone for a while. */
  commitNow(): void;
  /** A message was let go for want of room; say so, and ask for it again later. */
  refuseForWantOfRoom(): void;
  /** The process is alive and its timers run. */
  turn(): void;
  lastTurnMs(): number;
  close(): void;
}>;

/** Begin to commit what comes into a pending group. The store is written from here only. */
export function openCommitLoop(ports: LoopPorts): CommitLoop {
  const { pending, tally, store, clock, log } = ports;
  const rule = pacingRule(ports.groupCount, ports.groupMs);
  let pacing = beginPacing(rule, clock.monotonicMs());
  let timer: NodeJS.Timeout | null = null;
  let immediate: NodeJS.Immediate | null = null;
  let rememberedAtMs = Number.NEGATIVE_INFINITY;
  let turnedAtMs = clock.monotonicMs();
  let failingSinceMs: number | null = null;
  let retryMs = RETRY_FIRST_MS;
  let retry: NodeJS.Timeout | null = null;
  let letGo = 0;
  let restartMayMend = true;

  const commit = (isLast = false): void => {
    if (timer !== null) clearTimeout(timer);
    if (immediate !== null) clearImmediate(immediate);
    timer = null;
    immediate = null;
    // At the last what was judged since it was written down is, and need not be judged again.
    const isOwed = isLast && rememberedAtMs > Number.NEGATIVE_INFINITY;
    if (pending.isEmpty && !tally.hasNews && !isOwed) return;
    const nowMs = clock.monotonicMs();
    const due = isOwed || nowMs - rememberedAtMs >= REMEMBER_EVERY_MS;
    const { readings, findings, letters, facts, deaf } = pending;
    const judge = due || findings.length > 0 ? ports.remember() : null;
    const heard = due || tally.hasNews ? tally.read() : [];
    try {
      store.commit({ readings, findings, letters, judge, heard, facts, deaf }, ports.keepers);
    } catch (error) {
      failed(error, nowMs);
      return;
    }
    if (heard.length > 0) tally.stored();
    if (judge !== null) rememberedAtMs = nowMs;
    turnedAtMs = clock.monotonicMs();
    pacing = spendCommit(pacing, waiting(nowMs), turnedAtMs, rule);
    for (const acknowledge of pending.clear()) acknowledge();
    ports.onGroup(readings.length);
    if (failingSinceMs !== null) recovered(nowMs);
    if (letters.length > 0) ports.onLetters();
  };

  const failed = (error: unknown, nowMs: number): void => {
    if (failingSinceMs === null)
      log.error(
        { error: String(error) },
        "the store can't be written; readings are judged but not acknowledged until it can",
      );
    failingSinceMs ??= nowMs;
    restartMayMend = !isDiskTrouble(error);
    if (isDamage(error)) ports.onDamaged(error);
    const forMs = nowMs - failingSinceMs;
    if (forMs >= STRANDED_AFTER_MS) ports.onStranded(pending.letters, { forMs, error });
    retry ??= setTimeout(() => {
      retry = null;
      commit();
    }, retryMs);
    retryMs = Math.min(RETRY_MOST_MS, retryMs * 2);
  };

  const recovered = (nowMs: number): void => {
    const seconds = Math.round((nowMs - failingSinceMs!) / SECOND_MS);
    log.info({ seconds, letGo }, "the store can be written again");
    failingSinceMs = null;
    retryMs = RETRY_FIRST_MS;
    ports.onStored();
    if (letGo > 0) ports.onRoom();
    letGo = 0;
  };

  const whenDue = (): void => {
    timer = null;
    if (pending.isEmpty) commit();
    else schedule();
  };

  const schedule = (): void => {
    if (retry !== null) return;
    if (pending.readings.length >= FLOOD_COUNT && pending.readings.length >= rule.groupCount) {
      commit();
      return;
    }
    if (immediate !== null) return;
    // In the next turn, so that all that one socket chunk brought is one commit.
    if (pending.readings.length >= rule.groupCount) immediate = setImmediate(() => commit());
    if (timer !== null || immediate !== null) return;
    const nowMs = clock.monotonicMs();
    const dueAtMs = commitDueAtMs(pacing, waiting(nowMs), rule);
    if (dueAtMs <= nowMs) commit();
    else timer = setTimeout(whenDue, Math.min(LOOK_AGAIN_MS, Math.ceil(dueAtMs - nowMs)));
  };

  /** Of news about topics alone the age is not known, nor does anybody wait for it. */
  const waiting = (nowMs: number): Waiting => {
    const { oldestAtMs, newestAtMs, readings } = pending;
    if (pending.isEmpty) return { count: 0, oldestAtMs: nowMs, newestAtMs: nowMs };
    return { count: readings.length, oldestAtMs, newestAtMs };
  };

  return {
    schedule,
    commitNow: () => {
      if (retry === null) commit();
    },
    refuseForWantOfRoom: () => {
      if (letGo === 0) log.error({}, "no room for more readings; senders keep the rest for now");
      letGo += 1;
    },
    turn: () => {
      const nowMs = clock.monotonicMs();
      const failsForMs = failingSinceMs === null ? 0 : nowMs - failingSinceMs;
      if (failsForMs < GIVE_UP_TURNING_MS || !restartMayMend) turnedAtMs = nowMs;
    },
    lastTurnMs: () => turnedAtMs,
    close: () => {
      commit(true);
      if (retry !== null) clearTimeout(retry);
      if (timer !== null) clearTimeout(timer);
      if (immediate !== null) clearImmediate(immediate);
    },
  };
}
