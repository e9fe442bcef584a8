import type { Log } from "../mqtt/arrival-desk.js";

/** Our choice: a mail server that hangs must not hold up a reboot. */
const STEP_MS = 5_000;

/** What is open, and how it is closed: newest first, each step under a deadline. */
export type ClosingStack = Readonly<{
  /** Register the close of what has just been opened. */
  add(name: string, close: () => void | Promise<void>): void;
  /** Close all, once; a step that fails or is late is said and passed over. Never throws. */
  closeAll(): Promise<void>;
}>;

/** @param stepMs how long one step may take, ms */
export function openClosingStack(log: Log, stepMs = STEP_MS): ClosingStack {
  const steps: Array<{ name: string; close: () => void | Promise<void> }> = [];
  let closing: Promise<void> | null = null;

  const closeAll = async (): Promise<void> => {
    for (let step = steps.pop(); step !== undefined; step = steps.pop()) {
      const { name, close } = step;
      try {
        await within(stepMs, Promise.resolve().then(close));
      } catch (error) {
        log.error({ error: String(error) }, `closing ${name} failed`);
      }
    }
  };

  return {
    add: (name, close) => {
      steps.push({ name, close });
    },
    closeAll: () => {
      closing ??= closeAll();
      return closing;
    },
  };
}

function within(ms: number, work: Promise<void>): Promise<void> {
  const late = new Promise<void>((_, reject) => {
    setTimeout(() => reject(new Error(`not done within ${ms} ms`)), ms).unref();
  });
  return Promise.race([work, late]);
}
