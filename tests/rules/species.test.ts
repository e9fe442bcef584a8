import { expect, test } from "vitest";
import { isBorrowed, isKnown, ownProfile, profileOf, SPECIES } from "../../rules/species.js";

test("four species are known, and their values say where they are from", () => {
  expect(SPECIES.map((p) => p.id)).toEqual([
    "osmia-lignaria",
    "osmia-bicornis",
    "osmia-cornuta",
    "osmia-cornifrons",
  ]);
  for (const { id, name, like: _like, ...values } of SPECIES)
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

test("a profile that is like a known species has that one's results as its own", () => {
  // Bosch and Kemp (2004) wintered Osmia cornuta, SARE Handbook 11 is on lignaria and cornifrons.
  const own = ownProfile("garden-bee", "Garden bee", {}, "osmia-cornuta");
  expect(isBorrowed(own, own.chillDaysBest)).toBe(false);
  expect(isBorrowed(own, own.storageDays)).toBe(true);
  const alone = ownProfile("garden-bee", "Garden bee", {});
  expect(isBorrowed(alone, alone.chillDaysBest)).toBe(true);
});

test("figures are known for a species that Drowse knows or of which a keeper says something", () => {
  expect(isKnown(profileOf("osmia-lignaria"))).toBe(true);
  expect(isKnown(profileOf("garden-bee"))).toBe(false);
  expect(isKnown(ownProfile("garden-bee", "Garden bee", {}))).toBe(false);
  expect(isKnown(ownProfile("garden-bee", "Garden bee", {}, "osmia-cornuta"))).toBe(true);
  expect(isKnown(ownProfile("garden-bee", "Garden bee", { chillBelowC: 6 }))).toBe(true);
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
