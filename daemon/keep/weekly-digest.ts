import { schedule } from "node-cron";
import { isSaneClock } from "../../shared/time.js";
import type { Clock } from "../clock.js";
import type { Config } from "../config.js";
import { makeDigest } from "../digest/make-digest.js";
import type { LetterContext } from "../letters/compose.js";
import type { Log } from "../mqtt/arrival-desk.js";
import type { Store } from "../store/store.js";
import { cronOf, latestDigestSpan } from "./digest-span.js";

/** What a weekly digest is made of, and whom it tells. */
export type DigestPorts = Readonly<{
  config: Pick<Config, "site" | "digest" | "keepers" | "year" | "release">;
  store: Store;
  clock: Clock;
  log: Log;
  context(): LetterContext;
  /** A digest was queued. */
  onLetters(): void;
}>;

/**
 * Queue the digest of the last week each week at its time, in the site's time zone; at a start
 * the latest one too, if it fell due while Drowse was away.
 */
export function startWeeklyDigest(ports: DigestPorts): { close(): Promise<void> } {
  const { config, log } = ports;
  const queue = () => {
    try {
      if (queueDigest(ports)) ports.onLetters();
    } catch (error) {
      log.error({ error: String(error) }, "the weekly digest could not be made");
    }
  };
  queue();
  const task = schedule(cronOf(config.digest), queue, {
    timezone: config.site.timezone,
    name: "weekly digest",
  });
  return {
    close: async () => {
      await task.destroy();
    },
  };
}

/**
 * Queue the latest digest that is due, unless it was queued before, or nothing was ever heard
 * before the end of its week.
 *
 * @returns whether one was queued
 */
function queueDigest({ config, store, clock, context }: DigestPorts): boolean {
  const nowMs = clock.nowMs();
  if (!isSaneClock(nowMs)) return false;
  const { site, digest, keepers } = config;
  const span = latestDigestSpan(nowMs, digest, site.timezone);
  const known = site.probes.some(({ id }) => store.rollups.days(id, 0, span.toMs).length > 0);
  const isTold = store.letters
    .between(span.toMs, nowMs + 1)
    .some(({ letter }) => letter.id === `digest/${span.fromMs}/${span.toMs}`);
  if (!known || isTold) return false;
  store.letters.queue(makeDigest(store, span, nowMs, context(), config).letter, keepers);
  return true;
}
