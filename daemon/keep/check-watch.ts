import type { Corrector } from "../../sensors/corrector.js";
import { type TakeInPorts, takeInChecks } from "../checks/take-in.js";
import type { Log } from "../mqtt/arrival-desk.js";

/** What the watch for checks works on, and whom it tells. */
export type CheckWatchPorts = TakeInPorts &
  Readonly<{
    log: Log;
    useCorrector(corrector: Corrector): void;
    /** Letters were queued. */
    onLetters(): void;
  }>;

export type CheckWatch = Readonly<{
  /** To be called every few seconds; cheap while nothing was checked. */
  look(): void;
  /** Resolves once nothing is under way any more. */
  close(): Promise<void>;
}>;

/**
 * Sees what another process wrote of checks: that a probe left its place, so that its readings are
 * not judged; and what a check found, which is then taken in.
 */
export function startCheckWatch(ports: CheckWatchPorts): CheckWatch {
  const { store, log } = ports;
  let absencesSeen = "[]";
  let underWay: Promise<void> | null = null;
  let isClosing = false;

  const pause = async (): Promise<void> => {
    await ports.pause();
    if (isClosing) throw new Error("stopped; it is taken in at the next start");
  };

  const takeIn = async (): Promise<void> => {
    const startedMs = performance.now();
    try {
      const entryNo = store.checks.newestNo();
      if (!(await takeInChecks({ ...ports, pause }))) return;
      log.info({ entryNo, ms: Math.round(performance.now() - startedMs) }, "took a check in");
      ports.onLetters();
    } catch (error) {
      if (!isClosing) log.error({ error: String(error) }, "a check could not be taken in yet");
    }
  };

  return {
    look() {
      const absences = JSON.stringify(store.checks.absences());
      if (absences !== absencesSeen) {
        absencesSeen = absences;
        ports.useCorrector(store.checks.corrector());
      }
      if (underWay !== null || store.checks.newestNo() === store.checks.takenNo()) return;
      underWay = takeIn().finally(() => {
        underWay = null;
      });
    },
    close: async () => {
      isClosing = true;
      await underWay;
    },
  };
}
