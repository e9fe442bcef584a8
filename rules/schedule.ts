import { quantile } from "simple-statistics";
import { HOUR_MS, MINUTE_MS } from "../shared/time.js";
import { type Known, lately } from "./acquaintance.js";

const SCHEDULE_LEAST = 5;
const SCHEDULE_LOOKS_AT = 16;
const SCHEDULE_TOLERANCE_MS = 7 * MINUTE_MS;
const SCHEDULE_SHARE = 0.6;
/** Farther from the clock's time than this is all the same. */
const OFF_MOST_MS = HOUR_MS;

/** How well long rises keep to a clock, 0 to 1, and how far an onset is from the clock's time. */
export type Clock = Readonly<{ share: number; offMin: number }>;

/**
 * Whether long rises come by a clock, as those of a defrost timer do.
 *
 * Tries every distance between two of the last sixteen as the period (2 to 25 h) and takes the
 * one that explains most of them.
 */
export function clockOf(known: Known, onsetMs: number): Clock {
  const onsets = known.longRises.map((r) => r.onsetMs).filter((t) => t < onsetMs);
  const looked = onsets.slice(-SCHEDULE_LOOKS_AT);
  let share = 0;
  let offMs = OFF_MOST_MS;
  if (looked.length < SCHEDULE_LEAST) return { share, offMin: offMs / MINUTE_MS };
  let periodMs = 0;
  for (const [i, first] of looked.entries()) {
    for (const second of looked.slice(i + 1)) {
      const tried = second - first;
      if (tried < 2 * HOUR_MS || tried > 25 * HOUR_MS) continue;
      const explained = shareExplained(looked, tried);
      if (explained <= share) continue;
      share = explained;
      periodMs = tried;
    }
  }
  if (periodMs > 0)
    for (const earlier of looked)
      for (const turns of [1, 2, 3])
        offMs = Math.min(offMs, Math.abs(onsetMs - earlier - turns * periodMs));
  return { share, offMin: offMs / MINUTE_MS };
}

/** Of the onsets that could follow another by this period, the share that does; 0 of too few. */
function shareExplained(onsets: readonly number[], periodMs: number): number {
  const old = onsets.filter((t) => t - onsets[0]! >= periodMs - SCHEDULE_TOLERANCE_MS);
  if (old.length < 4) return 0;
  const follows = (t: number) =>
    onsets.some((earlier) => Math.abs(t - earlier - periodMs) <= SCHEDULE_TOLERANCE_MS);
  return old.filter(follows).length / old.length;
}

/** Whether one of these long rises is due by a clock that explains most of them. */
export function scheduleAt({ share, offMin }: Clock): "none" | "due" | "not due" {
  if (share <= SCHEDULE_SHARE) return "none";
  return offMin * MINUTE_MS <= SCHEDULE_TOLERANCE_MS ? "due" : "not due";
}

const CLOCKWORK_TOLERANCE_MS = 6 * MINUTE_MS;
const CLOCKWORK_BEATS = 4;

/**
 * Whether a rise that begins now is one of a row that keeps a clock's time: four before it, each
 * the same span (3.5 to 25 h) apart. Openings by chance hardly ever do so.
 */
export function isClockwork({ rises }: Known, onsetMs: number): boolean {
  const happened = (atMs: number) =>
    rises.some((r) => Math.abs(r.onsetMs - atMs) <= CLOCKWORK_TOLERANCE_MS);
  for (const earlier of rises) {
    const spanMs = onsetMs - earlier.onsetMs;
    if (spanMs < 3.5 * HOUR_MS || spanMs > 25 * HOUR_MS) continue;
    let beats = 1;
    while (beats < CLOCKWORK_BEATS && happened(onsetMs - (beats + 1) * spanMs)) beats++;
    if (beats === CLOCKWORK_BEATS) return true;
  }
  return false;
}

/** Whether the last long rise was so lately that a defrost cannot be due again. */
export function isTooSoon(known: Known, onsetMs: number): boolean {
  const recent = known.longRises.map((r) => r.onsetMs).filter((t) => t < onsetMs);
  const looked = recent.slice(-13);
  if (looked.length < SCHEDULE_LEAST || lately(known, onsetMs).length < 4) return false;
  const gaps = looked.slice(1).map((t, i) => t - looked[i]!);
  const whole = gaps.filter((gap) => gap > 1.5 * HOUR_MS);
  if (whole.length < 4) return false;
  return onsetMs - looked.at(-1)! < 0.75 * quantile(whole, 0.15);
}
