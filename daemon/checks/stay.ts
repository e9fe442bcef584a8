import { MINUTE_MS } from "../../shared/time.js";
import type { Clock } from "../clock.js";
import type { Store } from "../store/store.js";

/** A check that ends without a word, because its process did, holds a probe back no longer. */
const HELD_MS = 10 * MINUTE_MS;
/** A probe put back in its place takes so long to be at its temperature; our choice. */
const SETTLES_MS = 30 * MINUTE_MS;

/**
 * A probe's stay out of its place while it is checked: what it says meanwhile is stored and not
 * judged.
 *
 * @param leaves false for a probe that is checked where it lies
 */
export function openStay(
  store: Pick<Store, "checks">,
  probeId: string,
  clock: Clock,
  leaves: boolean,
): {
  /** To be called often: the check goes on. */
  goesOn(nowMs: number): void;
  /** The check is over. @returns from when on the probe is judged again; null if it never left */
  end(): number | null;
} {
  if (!leaves) return { goesOn: () => {}, end: () => null };
  const fromMs = clock.nowMs();
  let untilMs = fromMs + HELD_MS;
  const no = store.checks.beginAbsence({ probeId, fromMs, untilMs });
  const move = (toMs: number): void => {
    untilMs = toMs;
    store.checks.extendAbsence(no, untilMs);
  };
  return {
    goesOn(nowMs) {
      if (untilMs - nowMs < HELD_MS / 2) move(nowMs + HELD_MS);
    },
    end() {
      move(clock.nowMs() + SETTLES_MS);
      return untilMs;
    },
  };
}
