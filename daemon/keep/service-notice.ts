import { execFile } from "node:child_process";
import { SECOND_MS } from "../../shared/time.js";

/** How often the loops are looked at where systemd sets no pace. */
const LOOK_EVERY_MS = 30 * SECOND_MS;

/** A loop that must turn for Drowse to be of use; one that stands for longer than that hangs. */
export type Loop = Readonly<{ lastTurnMs(): number; standsMostMs: number }>;

/** Whether every loop has turned of late; times on the clock that never jumps, ms. */
export function allTurn(loops: readonly Loop[], nowMs: number): boolean {
  return loops.every((loop) => nowMs - loop.lastTurnMs() < loop.standsMostMs);
}

/**
 * Tell systemd that Drowse is up, and feed its watchdog while all loops turn; does nothing where
 * systemd does not ask. Through the `systemd-notify` command: Node opens no datagram sockets of
 * the kind that systemd listens on.
 *
 * The unit needs `NotifyAccess=all`, because the command is a process of its own.
 */
export function startServiceNotice(
  loops: readonly Loop[],
  monotonicMs: () => number,
  env: NodeJS.ProcessEnv = process.env,
): { close(): void } {
  if (env.NOTIFY_SOCKET === undefined) return { close: () => {} };
  const tell = (...words: string[]) => execFile("systemd-notify", words, { env }, () => {});
  tell("--ready", "--status=keeping watch");
  const watchdogMs = Number(env.WATCHDOG_USEC ?? 0) / 1_000;
  const everyMs = watchdogMs > 0 ? watchdogMs / 3 : LOOK_EVERY_MS;
  const timer = setInterval(() => {
    if (allTurn(loops, monotonicMs())) tell("WATCHDOG=1");
  }, everyMs);
  return {
    close: () => {
      clearInterval(timer);
      tell("STOPPING=1");
    },
  };
}
