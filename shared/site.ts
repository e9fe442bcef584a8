import type { SpeciesProfile } from "./species.js";

/** Where a probe lies. */
export const PLACES = ["air", "box", "wall", "room", "outdoors"] as const;
export type Place = (typeof PLACES)[number];

/** Whether what a probe says there is what the cocoons lie in; the rest can wait for the digest. */
export const isAmongCocoons = (place: unknown): place is "air" | "box" =>
  place === "air" || place === "box";

/** Lowest and highest value that is still inside; both ends belong to it. */
export type Span = Readonly<{ low: number; high: number }>;

/** How readily mould takes to a material, most readily first. */
export const MOULD_MATERIALS = [
  "very-sensitive",
  "sensitive",
  "medium-resistant",
  "resistant",
] as const;

/** When the water at the cocoons is told of. Spans: `low` is for a note, `high` for a visit. */
export type ClimateLimits = Readonly<{
  /** Humidity at the cocoons over the last hours, %RH, and how long it must last. */
  dampPct: Span;
  dampHoldMs: number;
  /** How long the cocoons must stay wet for a visit; a note comes at a quarter of it. */
  wetHoldMs: number;
  /** Mould index, 0 to 6, and what it is reckoned for. */
  mouldIndex: Span;
  mouldMaterial: (typeof MOULD_MATERIALS)[number];
  /** How long a box must be below its humidity band for a visit; a note comes at a third of it. */
  dryHoldMs: number;
  /** So long after the keeper damped the paper, damp is no surprise. */
  dampingExplainsMs: number;
}>;

/** One fridge or cold room. `bandC` in °C, `humidityBandPct` in %RH. */
export type Chamber = Readonly<{
  id: string;
  species: string;
  /** Where the species is one of the keeper's own; otherwise a known one of that id holds. */
  ownProfile?: SpeciesProfile;
  bandC: Span;
  humidityBandPct: Span;
  /** First-order lag of cocoons behind the air, when the keeper has set one; otherwise null. */
  cocoonLagMs: number | null;
  /** Without any, the usual ones of `rules/climate-limits.ts` hold. */
  climate?: ClimateLimits;
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
  /** Profiles of the keeper's own, beside the species that are known. */
  ownSpecies?: readonly SpeciesProfile[];
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
