import { createHmac } from "node:crypto";
import { formatRfc3339 } from "../../shared/rfc3339.js";
import { SECOND_MS } from "../../shared/time.js";
import type { Clock } from "../clock.js";
import type { HeartbeatConfig } from "../config.js";
import type { Log } from "../mqtt/arrival-desk.js";

/** Our choice: who does not answer in that time has not taken it. */
const ANSWER_WAIT_MS = 20 * SECOND_MS;

/** The header with the signature: HMAC-SHA-256 (RFC 2104) of the body, in hexadecimal digits. */
export const SIGNATURE_HEADER = "drowse-signature";

/** What the heartbeat tells, and whom it tells of its own trouble. */
export type HeartbeatPorts = Readonly<{
  heartbeat: HeartbeatConfig;
  siteName: string;
  clock: Clock;
  log: Log;
  /** Whether intake and outbox really turn; nothing is sent while they do not. */
  turns(): boolean;
  openExcursions(): number;
  /** null once it goes again. */
  trouble(said: string | null): void;
}>;

/**
 * Say to an address of the keeper's choice that Drowse keeps watch, at once and then each so many
 * minutes: a POST of JSON with `site`, `at` (RFC 3339), `everyMin` and `open` (excursions), signed.
 * Whoever receives it checks the signature and that `at` is new, and sounds when none comes.
 *
 * A failure is logged once and told; the next beat is the next try. Bound: one beat on its way.
 */
export function startHeartbeat(ports: HeartbeatPorts): { close(): void } {
  const { heartbeat, log, trouble } = ports;
  const closing = new AbortController();
  let isUnderWay = false;
  let said: string | null = null;
  const note = (failure: string | null) => {
    if (failure === said) return;
    said = failure;
    if (failure === null) log.info({}, "the heartbeat is answered again");
    else log.warn({ to: hostOf(heartbeat) }, `the heartbeat is not answered: ${failure}`);
    trouble(failure);
  };
  const beat = async () => {
    if (isUnderWay || !ports.turns()) return;
    isUnderWay = true;
    try {
      note(await send(ports, closing.signal));
    } catch (error) {
      if (!closing.signal.aborted) log.error({ error: String(error) }, "the heartbeat failed");
    }
    isUnderWay = false;
  };
  const timer = setInterval(beat, heartbeat.everyMs);
  void beat();
  return {
    close: () => {
      clearInterval(timer);
      closing.abort();
    },
  };
}

/** @returns why it was not taken, null when it was */
async function send(ports: HeartbeatPorts, closing: AbortSignal): Promise<string | null> {
  const { heartbeat, siteName, clock, openExcursions } = ports;
  const body = JSON.stringify({
    site: siteName,
    at: formatRfc3339(clock.nowMs()),
    everyMin: heartbeat.everyMs / 60_000,
    open: openExcursions(),
  });
  const signature = createHmac("sha256", heartbeat.secret ?? "")
    .update(body)
    .digest("hex");
  try {
    const answer = await fetch(heartbeat.url, {
      method: "POST",
      headers: { "content-type": "application/json", [SIGNATURE_HEADER]: signature },
      body,
      redirect: "error",
      signal: AbortSignal.any([closing, AbortSignal.timeout(ANSWER_WAIT_MS)]),
    });
    // Its text is of no use here, and whoever sends it without end would hold the connection.
    await answer.body?.cancel();
    return answer.ok ? null : `${hostOf(heartbeat)} answers ${answer.status}`;
  } catch (error) {
    if (closing.aborted) throw error;
    return `${hostOf(heartbeat)}: ${reasonOf(error)}`;
  }
}

/** The address may hold a secret in its path or query, so only its host is ever said. */
function hostOf({ url }: HeartbeatConfig): string {
  return new URL(url).host;
}

function reasonOf(error: unknown): string {
  const { name, message, cause } = error as Error & { cause?: NodeJS.ErrnoException };
  if (name === "TimeoutError") return `no answer in ${ANSWER_WAIT_MS / SECOND_MS} s`;
  return cause?.code ?? cause?.message ?? message;
}
