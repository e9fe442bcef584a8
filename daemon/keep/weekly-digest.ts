import { isSaneClock } from "../../shared/time.js";
import type { Clock } from "../clock.js";
import type { Config } from "../config.js";
import { makeDigest } from "../digest/make-digest.js";
import type { LetterContext } from "../letters/compose.js";
import type { Store } from "../store/store.js";
import { latestDigestSpan } from "./digest-span.js";

/** What a weekly digest is made of, and whom it tells. */
export type DigestPorts = Readonly<{
  config: Pick<Config, "site" | "digest" | "keepers" | "year" | "release">;
  store: Store;
  clock: Clock;
  context(): LetterContext;
  /** A digest was queued. */
  onLetters(): void;
}>;

/**
 * The digest of the last week each week at its time, in the site's time zone, and the latest one
 * too where it fell due while Drowse was away.
 */
export function openWeeklyDigest(ports: DigestPorts) {
  let lookedAtMs = Number.NaN;
  return {
    /**
     * Queue the latest digest unless it was queued before, or nothing was ever heard before the end
     * of its week. To be called every minute or so.
     */
    look(): void {
      const { config, store, clock, context } = ports;
      const nowMs = clock.nowMs();
      if (!isSaneClock(nowMs)) return;
      const { site, digest, keepers } = config;
      const span = latestDigestSpan(nowMs, digest, site.timezone);
      if (span.toMs === lookedAtMs) return;
      const known = site.probes.some(({ id }) => store.rollups.days(id, 0, span.toMs).length > 0);
      const isTold = store.letters
        .between(span.toMs, nowMs + 1)
        .some(({ letter }) => letter.id === `digest/${span.fromMs}/${span.toMs}`);
      if (known && !isTold) {
        store.letters.queue(makeDigest(store, span, nowMs, context(), config).letter, keepers);
        ports.onLetters();
      }
      lookedAtMs = span.toMs;
    },
  };
}
