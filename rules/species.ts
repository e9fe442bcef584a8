import type { Span } from "../shared/site.js";

/** A value and how it is known. */
export type Sourced<T> = Readonly<{
  value: T;
  standing:
    | "experiment"
    | "handbook"
    | "our choice"
    | "common practice, no source"
    | "the keeper's own";
  /** The paper, or empty where there is none. */
  source: string;
  /** The species it was found on; whoever else uses it borrows it. Empty: on none. */
  foundOn: readonly string[];
}>;

/** Offspring of each female lost, %, against wintering at 0 °C. */
type OffspringLoss = Readonly<{ atC: number; lostPct: number }>;

type Values = Readonly<{
  /** Storage, °C and %RH. */
  bandC: Sourced<Span>;
  humidityBandPct: Sourced<Span>;
  /** At this warmth, °C, no wintering is suitable, even briefly. */
  neverSuitableC: Sourced<number>;
  /** Time at this or below, °C, counts as chill. */
  chillBelowC: Sourced<number>;
  /** With fewer days of chill few emerge; within the span they emerge best. */
  chillDaysLeast: Sourced<number>;
  chillDaysBest: Sourced<Span>;
  /** Usual days in cold storage. */
  storageDays: Sourced<Span>;
  /** Days from steady warmth of a room until the first emerge, and until most males have. */
  emergenceDays: Sourced<Span>;
  /** Warmth at which those days were seen, °C. */
  emergenceAtC: Sourced<Span>;
  offspringLoss: Sourced<readonly OffspringLoss[]>;
}>;

/** What Drowse takes for true of one kind of bee that winters as an adult in its cocoon. */
export type SpeciesProfile = Values & Readonly<{ id: string; name: string }>;

const BK03 = "Bosch J, Kemp WP (2003), Environ. Entomol. 32:711–716, males";
const BK04 = "Bosch J, Kemp WP (2004), Apidologie 35:469–479";
const SARE = "Mader E et al. (2010), Managing Alternative Pollinators, SARE Handbook 11";
const SR25 = "Sci. Rep. (2025), doi 10.1038/s41598-025-86729-x, females";

const LIGNARIA = "osmia-lignaria";
const BICORNIS = "osmia-bicornis";
const CORNUTA = "osmia-cornuta";
const CORNIFRONS = "osmia-cornifrons";

const PRACTICE = { standing: "common practice, no source", source: "", foundOn: [] } as const;
const OURS = { standing: "our choice", source: "", foundOn: [] } as const;
const found = <T>(value: T, source: string, ...foundOn: string[]): Sourced<T> => {
  return { value, standing: source === SARE ? "handbook" : "experiment", source, foundOn };
};

/** All that is known, in one table: no value was found for every species, so all share it. */
const TABLE: Values = {
  bandC: { value: { low: 1.1, high: 3.3 }, ...PRACTICE },
  humidityBandPct: { value: { low: 60, high: 70 }, ...PRACTICE },
  neverSuitableC: found(10, BK03, LIGNARIA),
  // The warmest at which the wintering matrix has any success.
  chillBelowC: { value: 7, ...OURS },
  chillDaysLeast: found(30, BK04, CORNUTA),
  chillDaysBest: found({ low: 90, high: 150 }, BK04, CORNUTA),
  storageDays: found({ low: 100, high: 200 }, SARE, LIGNARIA, CORNIFRONS),
  emergenceDays: found({ low: 1, high: 7 }, SARE, LIGNARIA, CORNIFRONS),
  emergenceAtC: found({ low: 21, high: 26 }, SARE, LIGNARIA, CORNIFRONS),
  offspringLoss: found(
    [
      { atC: 4.5, lostPct: 26 },
      { atC: 8, lostPct: 36 },
    ],
    SR25,
    BICORNIS,
  ),
};

/** The species that Drowse knows by name. */
export const SPECIES: readonly SpeciesProfile[] = [
  { id: LIGNARIA, name: "Osmia lignaria", ...TABLE },
  { id: BICORNIS, name: "Osmia bicornis", ...TABLE },
  { id: CORNUTA, name: "Osmia cornuta", ...TABLE },
  { id: CORNIFRONS, name: "Osmia cornifrons", ...TABLE },
];

/** What a keeper may set of a profile of their own. */
export type OwnValues = Readonly<{
  [Key in keyof Values]?: Values[Key]["value"] | undefined;
}>;

/** A profile of the keeper's own: what they set, and the table for the rest. */
export function ownProfile(id: string, name: string, own: OwnValues): SpeciesProfile {
  const set = Object.entries(own)
    .filter(([, value]) => value !== undefined)
    .map(([key, value]) => [
      key,
      { value, standing: "the keeper's own", source: "", foundOn: [id] } as const,
    ]);
  return { id, name, ...TABLE, ...Object.fromEntries(set) };
}

/** The profile of this id, of the keeper's own or of those known; the table alone if of neither. */
export function profileOf(id: string, own: readonly SpeciesProfile[] = []): SpeciesProfile {
  const known = own.find((p) => p.id === id) ?? SPECIES.find((p) => p.id === id);
  return known ?? { id, name: id, ...TABLE };
}

/** Whether a value was found on other species only, so that it must be told as theirs. */
export function isBorrowed(profile: SpeciesProfile, { foundOn }: Sourced<unknown>): boolean {
  return foundOn.length > 0 && !foundOn.includes(profile.id);
}
