/** What is kept, and how it is read where it is not. */
type BlockPlan<T> = Readonly<{
  blockMs: number;
  /** At most so many are kept; the one longest unasked goes first. */
  mostBlocks: number;
  /** Read one probe's in [fromMs, toMs), oldest first. */
  read(probeNo: number, fromMs: number, toMs: number): readonly T[];
  /** Another number as soon as another process has committed. */
  version(): number;
}>;

/**
 * What was reckoned of hours that are over, kept in memory by blocks of time: a page that is looked
 * at again, or moved on by a minute, reads only what is new. Whoever changes such hours says so
 * with `forgetFrom`; what another process commits is noticed here, and all is read anew.
 */
export function openKeptBlocks<T extends Readonly<{ fromMs: number }>>(plan: BlockPlan<T>) {
  const { blockMs, mostBlocks, read, version } = plan;
  const blocks = new Map<string, Readonly<{ toMs: number; rows: readonly T[] }>>();
  let keptVersion = version();

  function rowsOf(probeNo: number, block: number): readonly T[] {
    const name = `${probeNo} ${block}`;
    const toMs = (block + 1) * blockMs;
    const kept = blocks.get(name) ?? { toMs, rows: read(probeNo, block * blockMs, toMs) };
    // Put last again, so that the first is the one longest unasked.
    blocks.delete(name);
    blocks.set(name, kept);
    if (blocks.size > mostBlocks) blocks.delete(blocks.keys().next().value!);
    return kept.rows;
  }

  return {
    /**
     * One probe's in [fromMs, toMs), oldest first.
     *
     * @param closedBeforeMs what lies before it changes only where `forgetFrom` says so
     */
    of(probeNo: number, fromMs: number, toMs: number, closedBeforeMs: number): T[] {
      const now = version();
      if (now !== keptVersion) blocks.clear();
      keptVersion = now;
      const wholeToMs = Math.min(toMs, Math.floor(closedBeforeMs / blockMs) * blockMs);
      // What would drive all else out is read and not kept.
      if (wholeToMs - fromMs > (mostBlocks * blockMs) / 2) return [...read(probeNo, fromMs, toMs)];
      const found: T[] = [];
      let atMs = fromMs;
      for (; atMs < wholeToMs; atMs = (Math.floor(atMs / blockMs) + 1) * blockMs)
        for (const row of rowsOf(probeNo, Math.floor(atMs / blockMs)))
          if (row.fromMs >= fromMs && row.fromMs < toMs) found.push(row);
      if (atMs < toMs) for (const row of read(probeNo, atMs, toMs)) found.push(row);
      return found;
    },
    /** What ends after this instant has changed, or may have. */
    forgetFrom(atMs: number): void {
      for (const [name, { toMs }] of blocks) if (toMs > atMs) blocks.delete(name);
    },
  };
}
