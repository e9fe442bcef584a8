import { closest } from "fastest-levenshtein";
import { SPECIES_IDS } from "../../rules/species.js";
import type { Fault, RawTable } from "./fault.js";

/**
 * Check that species of the keeper's own do not hide known ones, and that chambers name one of
 * either: a species misspelt would quietly get other bees' figures.
 */
export function checkSpecies(
  species: readonly RawTable[],
  chambers: readonly RawTable[],
  faults: Fault[],
): void {
  species.forEach(({ id }, index) => {
    if (typeof id === "string" && isKnownId(id))
      faults.push({
        path: ["species", index, "id"],
        expected: `expected an id of its own, and like = "${id}" for bees of that species`,
      });
  });
  const own = species.map(({ id }) => id).filter((id) => typeof id === "string");
  const ids = [...own, ...SPECIES_IDS];
  chambers.forEach(({ species: id }, index) => {
    if (typeof id === "string" && !ids.includes(id))
      faults.push({
        path: ["chamber", index, "species"],
        expected:
          `expected one of ${ids.join(", ")}, nearest is ${closest(id, ids)}; ` +
          "for other bees add a [[species]] table with this id",
      });
  });
}

const isKnownId = (id: string): boolean => SPECIES_IDS.some((known) => known === id);
