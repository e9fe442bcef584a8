/** Where a probe lies. */
export const PLACES = ["air", "box", "wall", "room", "outdoors"] as const;
export type Place = (typeof PLACES)[number];

/** Lowest and highest value that is still inside; both ends belong to it. */
export type Span = Readonly<{ low: number; high: number }>;

/** One fridge or cold room. `bandC` in °C, `humidityBandPct` in %RH. */
export type Chamber = Readonly<{
  id: string;
  species: string;
  bandC: Span;
  humidityBandPct: Span;
  /** First-order lag of cocoons behind the air, when the keeper has set one; otherwise null. */
  cocoonLagMs: number | null;
}>;

/** One sensing point. `chamberId` is null only for an outdoors probe. */
export type Probe = Readonly<{
  id: string;
  chamberId: string | null;
  place: Place;
  /** How often it is meant to speak; what it really does is learned. */
  intervalMs: number;
}>;

/** The place one Drowse looks after, as far as a judgement needs it. */
export type Site = Readonly<{
  name: string;
  /** IANA time zone, e.g. "Europe/London". */
  timezone: string;
  chambers: readonly Chamber[];
  probes: readonly Probe[];
}>;

/**
 * The name under which a chamber's cocoon temperature is kept beside the readings, as a series of
 * its own. A space keeps it apart from probes, whose ids have none.
 */
export function cocoonSeriesId(chamberId: string): string {
  return `cocoons ${chamberId}`;
}

/** Whether a name is that of a cocoon series rather than of a probe. */
export function isCocoonSeries(id: string): boolean {
  return id.startsWith("cocoons ");
}
