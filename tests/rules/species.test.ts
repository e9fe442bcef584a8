import { expect, test } from "vitest";
import { isBorrowed, ownProfile, profileOf, SPECIES } from "../../rules/species.js";

test("four species are known, and their values say where they are from", () => {
  expect(SPECIES.map((p) => p.id)).toEqual([
    "osmia-lignaria",
    "osmia-bicornis",
    "osmia-cornuta",
    "osmia-cornifrons",
  ]);
  for (const { id, name, ...values } of SPECIES)
    for (const [key, { standing, source }] of Object.entries(values)) {
      const isPublished = standing === "experiment" || standing === "handbook";
      expect(source !== "", `${id}, ${key}`).toBe(isPublished);
      expect(name).toBe(`Osmia ${id.slice("osmia-".length)}`);
    }
});

test("a result of another species is told as borrowed", () => {
  const bicornis = profileOf("osmia-bicornis");
  // Bosch and Kemp (2003) wintered Osmia lignaria, Bosch and Kemp (2004) Osmia cornuta.
  expect(isBorrowed(bicornis, bicornis.neverSuitableC)).toBe(true);
  expect(isBorrowed(bicornis, bicornis.chillDaysBest)).toBe(true);
  expect(isBorrowed(bicornis, bicornis.offspringLoss)).toBe(false);
  const lignaria = profileOf("osmia-lignaria");
  expect(isBorrowed(lignaria, lignaria.neverSuitableC)).toBe(false);
  expect(isBorrowed(lignaria, lignaria.chillDaysBest)).toBe(true);
  expect(isBorrowed(lignaria, lignaria.chillDaysLeast)).toBe(true);
  expect(isBorrowed(lignaria, lignaria.bandC)).toBe(false);
  const cornuta = profileOf("osmia-cornuta");
  expect(isBorrowed(cornuta, cornuta.chillDaysLeast)).toBe(false);
  expect(isBorrowed(cornuta, cornuta.chillDaysBest)).toBe(false);
});

test("a keeper's own profile has what they set, and the table for the rest", () => {
  const own = ownProfile("garden-bee", "Garden bee", {
    bandC: { low: 2, high: 4 },
    chillDaysLeast: undefined,
  });
  expect(own.bandC.value).toEqual({ low: 2, high: 4 });
  expect(own.bandC.standing).toBe("the keeper's own");
  expect(isBorrowed(own, own.bandC)).toBe(false);
  expect(own.chillDaysLeast).toEqual(SPECIES[0]!.chillDaysLeast);
  expect(profileOf("garden-bee", [own])).toBe(own);
  expect(profileOf("garden-bee").bandC).toEqual(SPECIES[0]!.bandC);
});
