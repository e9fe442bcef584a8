/** What a probe measures, and is checked in: °C or %RH over liquid water. */
export const QUANTITIES = ["temperature", "humidity"] as const;
export type Quantity = (typeof QUANTITIES)[number];

/** Salts whose saturated solution in water holds a known humidity above it. */
export const SALTS = ["LiCl", "MgCl2", "Mg(NO3)2", "NaCl", "KCl", "K2SO4"] as const;
export type Salt = (typeof SALTS)[number];

/** What a probe is held against. Values are in the unit of the quantity. */
export type Reference =
  | Readonly<{
      kind: "instrument";
      /** The keeper's words for it: kind, number, certificate. */
      name: string;
      /** What its certificate says must be added to what it shows. */
      correction: number;
      /** The expanded uncertainty (k = 2) that its certificate gives for it. */
      expanded: number;
    }>
  | Readonly<{ kind: "ice" }>
  | Readonly<{ kind: "salt"; salt: Salt; temperatureC: number }>;

/** What the probe said and what was true, at one instant. */
export type Pair = Readonly<{
  /** null where it was typed without a time. */
  atMs: number | null;
  /** As the probe sends it, before any correction of ours. */
  probe: number;
  /** The reference with its own certificate's correction in it. */
  reference: number;
}>;

/**
 * What is to be added to a value of a probe: `atPivot + slope · (value − pivot)`.
 *
 * Beyond the values that were checked, from `low` to `high`, it stays what it is at the nearer of
 * the two: a line is not trusted where nobody looked.
 */
export type Correction = Readonly<{
  pivot: number;
  atPivot: number;
  slope: number;
  low: number;
  high: number;
}>;

/** A correction that holds for readings of a probe from an instant on. */
export type HeldCorrection = Readonly<{
  checkId: string;
  probeId: string;
  quantity: Quantity;
  /** Of two that hold for a reading, the one made later counts. */
  madeAtMs: number;
  fromMs: number;
  correction: Correction;
}>;

/**
 * A stretch of time in which a probe was not in its place, because it was being checked. What it
 * said then belongs to no chamber. Its end is not in it.
 */
export type Absence = Readonly<{ probeId: string; fromMs: number; untilMs: number }>;

/** What is to be added to this value, in its unit. Total. */
export function correctionAt(correction: Correction, value: number): number {
  const { pivot, atPivot, slope, low, high } = correction;
  return atPivot + slope * (Math.min(high, Math.max(low, value)) - pivot);
}
