const SIGNALS = ["SIGINT", "SIGTERM"] as const;

/**
 * Resolves at the first SIGINT or SIGTERM, or after `forMs`; a second signal ends the process at
 * once, for whoever finds that closing hangs.
 */
export function untilStopped(forMs: number | null = null): Promise<void> {
  return new Promise((resolve) => {
    let asked = false;
    const timer = forMs === null ? undefined : setTimeout(resolve, forMs);
    const stop = () => {
      if (asked) process.exit(1);
      asked = true;
      clearTimeout(timer);
      resolve();
    };
    for (const signal of SIGNALS) process.on(signal, stop);
  });
}
