import type { Chamber } from "../shared/site.js";
import type { Sourced, SpeciesProfile, SpeciesValues } from "../shared/species.js";

const BK03 = "Bosch J, Kemp WP (2003), Environ. Entomol. 32:711–716, males";
const BK04 = "Bosch J, Kemp WP (2004), Apidologie 35:469–479";
const SARE = "Mader E et al. (2010), Managing Alternative Pollinators, SARE Handbook 11";
const SR25 = "Sci. Rep. (2025), doi 10.1038/s41598-025-86729-x, females";

const LIGNARIA = "osmia-lignaria";
const BICORNIS = "osmia-bicornis";
const CORNUTA = "osmia-cornuta";
const CORNIFRONS = "osmia-cornifrons";

/** The ids of the species that Drowse knows by name. */
export const SPECIES_IDS = [LIGNARIA, BICORNIS, CORNUTA, CORNIFRONS] as const;

const PRACTICE = { standing: "common practice, no source", source: "", foundOn: [] } as const;
const OURS = { standing: "our choice", source: "", foundOn: [] } as const;
const found = <T>(value: T, source: string, ...foundOn: string[]): Sourced<T> => {
  return { value, standing: source === SARE ? "handbook" : "experiment", source, foundOn };
};

/** All that is known, in one table: no value was found for every species, so all share it. */
const TABLE: SpeciesValues = {
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

/**
 * What a keeper may set of a profile of their own. The warmth that is never suitable is not among
 * it: the judge's most pressing letter hangs on it. Nor is what no judgement uses.
 */
export type OwnValues = Readonly<{
  [Key in keyof Omit<SpeciesValues, "neverSuitableC" | "offspringLoss">]?:
    | SpeciesValues[Key]["value"]
    | undefined;
}>;

/**
 * A profile of the keeper's own: what they set, and the table for the rest.
 *
 * @param like the known species that it is of; without one every result found on bees is borrowed
 */
export function ownProfile(
  id: string,
  name: string,
  own: OwnValues,
  like?: string,
): SpeciesProfile {
  const set = Object.entries(own)
    .filter(([, value]) => value !== undefined)
    .map(([key, value]) => [
      key,
      { value, standing: "the keeper's own", source: "", foundOn: [id] } as const,
    ]);
  const kin = like === undefined ? {} : { like };
  return { id, name, ...kin, ...TABLE, ...Object.fromEntries(set) };
}

/** The profile of this id, of the keeper's own or of those known; the table alone if of neither. */
export function profileOf(id: string, own: readonly SpeciesProfile[] = []): SpeciesProfile {
  const known = own.find((p) => p.id === id) ?? SPECIES.find((p) => p.id === id);
  return known ?? { id, name: id, ...TABLE };
}

/** The profile that holds in a chamber. */
export function profileIn({ species, ownProfile: own }: Chamber): SpeciesProfile {
  return own ?? profileOf(species);
}

/** Whether a value is the keeper's own. */
export const isSet = ({ standing }: Sourced<unknown>): boolean => standing === "the keeper's own";

/** Whether any figure is known for this species itself, to Drowse or to the keeper. */
export function isKnown({ id, name: _name, like, ...values }: SpeciesProfile): boolean {
  const isOwn = like !== undefined || Object.values(values).some(isSet);
  return isOwn || SPECIES_IDS.some((known) => known === id);
}

/** Whether a value was found on other species only, so that it must be told as theirs. */
export function isBorrowed(profile: SpeciesProfile, { foundOn }: Sourced<unknown>): boolean {
  const { id, like } = profile;
  return foundOn.length > 0 && !foundOn.includes(id) && !(like && foundOn.includes(like));
}
