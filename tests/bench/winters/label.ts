/** What was wrong with a simulated fridge for a time, and so what a judge ought to say. */
export type LabelKind = "door-ajar" | "cooling-lost" | "over-cooling" | "probe-mute";

/** One fault of a winter, with what the truth behind it did. Times are Unix ms. */
export type Label = Readonly<{
  kind: LabelKind;
  startMs: number;
  endMs: number;
  /** For a dead compressor: when a healthy twin of this fridge would next have started it. */
  nextStartDueMs: number | null;
  /** When the true cocoon temperature first passed 5 °C upwards or 0 °C downwards, from the
   * start until three hours after the end; null where it did not. */
  cocoonCrosses5AtMs: number | null;
  cocoonCrosses0AtMs: number | null;
  /** For a silent probe: which, or null for all. */
  probeId: string | null;
  /** How far the door stood open; null for other faults. */
  doorShare: number | null;
  /** True air over the second half of an ajar door above this fridge's undisturbed mean, K: how
   * much there was to notice. null for other faults. */
  airRiseK: number | null;
}>;
