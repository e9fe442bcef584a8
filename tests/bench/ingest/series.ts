/** What is published: six probes of one site, ten seconds apart, in a band that excites nobody. */
export const PROBE_IDS = ["air", "box", "wall", "attic-air", "attic-box", "yard"] as const;

/** Time between one reading and the next, whichever probe it is from. */
export const STEP_MS = 10_000 / PROBE_IDS.length;

/** When the series begins. */
export const FROM_MS = Date.UTC(2026, 0, 1);

/** The topic of a probe. */
export const topicOf = (probeId: string): string => `quillmere/${probeId}`;

/** The message with a number: topic and JSON payload with its own time. */
export function messageAt(index: number): { topic: string; payload: string } {
  const atMs = FROM_MS + Math.round(index * STEP_MS);
  // A compressor cycle of 40 minutes, ±0.8 K, in steps of 0.1 K.
  const cycle = Math.sin((2 * Math.PI * (atMs % 2_400_000)) / 2_400_000);
  const t = Math.round((2.2 + 0.8 * cycle) * 10) / 10;
  const topic = topicOf(PROBE_IDS[index % PROBE_IDS.length]!);
  return { topic, payload: `{"at":${atMs},"t":${t},"h":65.2}` };
}
