/** Wait for a condition, looking every 5 ms; fails by name at the deadline. */
export async function until(
  what: string,
  isSo: () => boolean | Promise<boolean>,
  deadlineMs = 10_000,
): Promise<void> {
  const endMs = performance.now() + deadlineMs;
  while (!(await isSo())) {
    if (performance.now() > endMs) throw new Error(`not within ${deadlineMs} ms: ${what}`);
    await new Promise((resolve) => setTimeout(resolve, 5));
  }
}
