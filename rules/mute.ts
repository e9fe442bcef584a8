import type { Probe } from "../shared/site.js";
import { DAY_MS, HOUR_MS, MINUTE_MS } from "../shared/time.js";

/** A silence that has been told. */
export type Mute = Readonly<{
  excursionId: string;
  urgency: "note" | "visit";
  sinceMs: number;
  openedAtMs: number;
  /** When a note takes over the visit of a silence that is over; null while it need not. */
  visitAtMs: number | null;
}>;

/** A stretch in which Drowse did not listen: it did not run, or was cut off. */
export type Deaf = Readonly<{ fromMs: number; toMs: number }>;

/** What is remembered of one probe's speaking. */
export type Hearing = Readonly<{
  probeId: string;
  /** Time of its newest reading; 0 before the first. */
  lastAtMs: number;
  /** So long after it a silence does not count, ms: it came late, or nobody listened. */
  excusedMs: number;
  /** Its usual interval as heard, ms; null until it is known. */
  heardMs: number | null;
  /** A pause that nine of ten of its pauses are shorter than, as heard, ms; null likewise. */
  longMs: number | null;
  /** Silences that were over within the hour, as where a radio falters; null before the first. */
  lapse: Lapse | null;
  /** The present silence, once it was told. */
  mute: Mute | null;
}>;

/** The last lapse, and the longest of those that came close upon each other. Times are Unix ms. */
type Lapse = Readonly<{ endedAtMs: number; longestMs: number; isUsual: boolean }>;

export function beginHearing(probeId: string): Hearing {
  return {
    probeId,
    lastAtMs: 0,
    excusedMs: 0,
    heardMs: null,
    longMs: null,
    lapse: null,
    mute: null,
  };
}

/**
 * A probe is given three intervals and four minutes, then it is told; our choice. One that speaks
 * when something changes, as many on batteries do, is given twice its long pauses if that is more.
 */
const INTERVALS = 3;
const LONG_PAUSES = 2;
const GRACE_MS = 4 * MINUTE_MS;
/**
 * A silence that is over so soon is a lapse. Two within two weeks are how this probe is heard: for
 * six weeks from the last it is given half as long again as the longest, so that it costs no letter
 * each time. All our choice.
 */
const LAPSE_MOST_MS = HOUR_MS;
const LAPSES_WITHIN_MS = 14 * DAY_MS;
const PATIENT_MS = 42 * DAY_MS;
const PATIENCE = 1.5;
/** Values stand a little longer than that, so that a silence is told first. */
const FRESH_SPARE_MS = 5 * MINUTE_MS;
/** Our choice: a reading that is late, but none that was lost. */
const SEEN_INTERVALS = 1.5;
/** A heard interval counts no longer than this, so that silence does not teach patience. */
const HEARD_MOST_MS = 120 * MINUTE_MS;
/** A usual interval follows each gap by this share of itself at the most. */
const HEARD_STEP = 0.05;
/** A long pause likewise: nine steps up for one down settle where one of ten is longer. */
const LONG_STEP = 0.01;
const LONG_UP = 9;

/**
 * A reading older than that when it came was kept back; our choice. That of others was on its way
 * for a while, and a silence counts from it whether judged live or again.
 */
const KEPT_BACK_MS = 2 * MINUTE_MS;

/**
 * Note one reading newer than the last; a told silence is ended when its moment is judged.
 *
 * @param nowMs when it was heard: a probe that hands over what it kept back is not silent
 */
export function hear(hearing: Hearing, atMs: number, nowMs = atMs): Hearing {
  const { probeId, lastAtMs, heardMs, longMs, mute } = hearing;
  const gapMs = Math.min(atMs - lastAtMs, HEARD_MOST_MS);
  let nextMs = heardMs;
  if (lastAtMs !== 0 && heardMs === null) nextMs = gapMs;
  else if (heardMs !== null) {
    // Bounded steps towards each gap settle near the gaps' median.
    const stepMs = Math.max(1_000, Math.round(heardMs * HEARD_STEP));
    nextMs = heardMs + Math.max(-stepMs, Math.min(stepMs, gapMs - heardMs));
  }
  const nextLongMs = lastAtMs === 0 ? longMs : longPauseMs(longMs ?? gapMs, gapMs);
  const lateMs = nowMs - atMs;
  // Never back: of a stretch in which nobody listened a kept reading may come at any time.
  const excusedMs = Math.max(
    lateMs < KEPT_BACK_MS ? 0 : lateMs,
    lastAtMs + hearing.excusedMs - atMs,
  );
  // Asked of long gaps only: this is done for every reading.
  const lapse = atMs - lastAtMs <= GRACE_MS ? hearing.lapse : nextLapse(hearing, atMs);
  return { probeId, lastAtMs: atMs, excusedMs, heardMs: nextMs, longMs: nextLongMs, lapse, mute };
}

function nextLapse({ lastAtMs, excusedMs, heardMs, lapse }: Hearing, atMs: number): Lapse | null {
  const silentMs = atMs - lastAtMs - excusedMs;
  const isLapse =
    heardMs !== null && silentMs > INTERVALS * heardMs + GRACE_MS && silentMs <= LAPSE_MOST_MS;
  if (!isLapse) return lapse;
  const isClose = lapse !== null && atMs - lapse.endedAtMs <= LAPSES_WITHIN_MS;
  const isPatient = lapse?.isUsual === true && atMs - lapse.endedAtMs <= PATIENT_MS;
  return {
    endedAtMs: atMs,
    longestMs: isClose || isPatient ? Math.max(lapse.longestMs, silentMs) : silentMs,
    isUsual: isClose || isPatient,
  };
}

/** How long a probe whose lapses are usual is waited for, ms; 0 for any other. */
function patienceMs(lapse: Lapse, lastAtMs: number): number {
  if (!lapse.isUsual || lastAtMs - lapse.endedAtMs > PATIENT_MS) return 0;
  return Math.round(PATIENCE * lapse.longestMs);
}

/** Pass over a stretch in which nobody listened: in it no probe can have been silent. */
export function passDeaf(hearing: Hearing, { fromMs, toMs }: Deaf): Hearing {
  const { lastAtMs, excusedMs, mute } = hearing;
  // One not heard yet may begin with what it kept back of that time.
  if (lastAtMs === 0) return { ...hearing, excusedMs: Math.max(excusedMs, toMs) };
  const passedMs = toMs - Math.max(fromMs, lastAtMs + excusedMs);
  if (passedMs <= 0) return hearing;
  if (mute === null) return { ...hearing, excusedMs: excusedMs + passedMs };
  const { visitAtMs } = mute;
  if (visitAtMs === null) return hearing;
  return { ...hearing, mute: { ...mute, visitAtMs: visitAtMs + passedMs } };
}

function longPauseMs(longMs: number, gapMs: number): number {
  const stepMs = Math.max(200, Math.round(longMs * LONG_STEP));
  if (gapMs > longMs) return Math.min(gapMs, longMs + LONG_UP * stepMs);
  return Math.max(gapMs, longMs - stepMs);
}

/** How often the probe speaks, by its own habit where that is slower than it was meant to. */
export function usualIntervalMs(hearing: Hearing, probe: Probe): number {
  return Math.max(probe.intervalMs, hearing.heardMs ?? 0);
}

/** What a probe said stands for the present for so long: as long as it is not yet silent. */
export function freshFor(intervalMs: number): number {
  return INTERVALS * intervalMs + FRESH_SPARE_MS;
}

/**
 * The longest gap, ms, that still counts as seen by a probe whose values stand for `freshMs`: half
 * an interval beyond its own, and no more than what two hours between readings ask for.
 *
 * @param leastMs what counts as seen whatever the probe's interval
 */
export function seenWithin(freshMs: number, leastMs: number): number {
  const intervalMs = (freshMs - FRESH_SPARE_MS) / INTERVALS;
  return Math.max(leastMs, SEEN_INTERVALS * Math.min(intervalMs, HEARD_MOST_MS));
}

/** When a silence counts as mute, ms; Infinity for a probe not heard yet or already told. */
export function muteAtMs(hearing: Hearing, probe: Probe): number {
  if (hearing.lastAtMs === 0 || hearing.mute !== null) return Number.POSITIVE_INFINITY;
  const usualMs = INTERVALS * usualIntervalMs(hearing, probe);
  const { lastAtMs, excusedMs, longMs, lapse } = hearing;
  const waitMs = Math.max(usualMs, LONG_PAUSES * (longMs ?? 0)) + GRACE_MS;
  const mostMs = lapse === null ? waitMs : Math.max(waitMs, patienceMs(lapse, lastAtMs));
  return lastAtMs + excusedMs + mostMs;
}
