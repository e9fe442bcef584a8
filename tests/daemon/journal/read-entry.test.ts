import { expect, test } from "vitest";
import { HEDGE, NOW_MS, openQuillmere } from "./ground.js";

const iso = (atMs: number) => new Date(atMs).toISOString();

test("a deed without a time is done now, without a chamber in the only one", () => {
  const { entry, last } = openQuillmere();
  entry({ deed: "damped", words: " three drops " });
  expect(last()).toEqual({
    no: 1,
    writtenAtMs: NOW_MS,
    atMs: NOW_MS,
    chamberId: "shed",
    lotId: null,
    act: { kind: "damped" },
    words: "three drops",
    corrects: null,
  });
});

// Noon, and a time, on the site's clock: in London UTC in winter and an hour ahead in summer.
test.each([
  ["2026-01-11", "2026-01-11T12:00:00.000Z"],
  ["2025-07-01", "2025-07-01T11:00:00.000Z"],
  ["2025-07-01 08:30", "2025-07-01T07:30:00.000Z"],
  ["2025-07-01T08:30", "2025-07-01T07:30:00.000Z"],
  ["2026-01-11T03:15:00+01:00", "2026-01-11T02:15:00.000Z"],
  ["2026-02-01", "2026-02-01T12:00:00.000Z"],
])("%s is dated back to %s", (on, at) => {
  const { entry, last } = openQuillmere();
  entry({ deed: "aired", on });
  expect(iso(last().atMs)).toBe(at);
});

test("this morning, a deed of today was done now and not at noon", () => {
  const morningMs = Date.UTC(2026, 1, 1, 8);
  const { entry, last } = openQuillmere(["shed"], morningMs);
  entry({ deed: "aired", on: "2026-02-01" });
  expect(last().atMs).toBe(morningMs);
});

test.each([
  ["2026-02-02", "expected a time that is not yet to come"],
  ["2026-02-01 15:01", "expected a time that is not yet to come"],
  ["1026-01-11", "expected a time from the year 2000 on"],
  ["2026-02-30", "expected a day such as 2026-01-11, or 2026-01-11 14:30"],
  ["2026-01-11 25:00", "expected a day such as 2026-01-11, or 2026-01-11 14:30"],
  ["yesterday", "expected a day such as 2026-01-11, or 2026-01-11 14:30"],
])("%s is no time of a deed", (on, fault) => {
  expect(openQuillmere().faults({ deed: "aired", on })).toEqual({ on: fault });
});

test("all that is wrong is told at once", () => {
  const { faults } = openQuillmere(["shed", "barn"]);
  expect(faults({ deed: "damped", on: "soon", saw: "mould" })).toEqual({
    on: expect.stringContaining("expected a day"),
    saw: "not for damped",
    chamber: "expected one of shed, barn",
  });
});

test("a deed that there is not names the nearest", () => {
  const { deed } = openQuillmere().faults({ deed: "dampd" });
  expect(deed).toMatch(/^expected one of damped, .*; nearest is damped$/);
});

test("an inspection says what was seen, or that nothing was", () => {
  const { entry, faults, last } = openQuillmere();
  entry({ deed: "inspected", saw: "nothing" });
  expect(last().act).toEqual({ kind: "inspected", seen: [] });
  entry({ deed: "inspected", saw: "Mites, mould" });
  expect(last().act).toEqual({ kind: "inspected", seen: ["mould", "mites"] });
  for (const saw of ["", "mold", "nothing,mould"])
    expect(faults({ deed: "inspected", saw }).saw).toMatch(/^expected nothing, or some of mould/);
});

test("what is done to a lot is done where the lot was at that time", () => {
  const { lot, entry, faults, last } = openQuillmere(["shed", "barn"]);
  lot(HEDGE);
  entry({ deed: "moved", lot: "hedge", to: "barn", on: "2026-01-10" });
  expect(last()).toMatchObject({ chamberId: "shed", act: { kind: "moved", toChamberId: "barn" } });
  entry({ deed: "damped", lot: "hedge", on: "2026-01-05" });
  expect(last().chamberId).toBe("shed");
  entry({ deed: "damped", lot: "hedge" });
  expect(last().chamberId).toBe("barn");
  const { chamber } = faults({ deed: "damped", lot: "hedge", on: "2025-10-01" });
  expect(chamber).toBe("expected the chamber; the lot was in none at that time");
});

test("a move leads somewhere else", () => {
  const { lot, faults } = openQuillmere(["shed", "barn"]);
  lot(HEDGE);
  expect(faults({ deed: "moved", lot: "hedge", to: "shed" }).to).toMatch(/^expected another/);
  expect(faults({ deed: "moved", lot: "hedge", to: "loft" }).to).toBe("expected shed, barn, out");
  expect(faults({ deed: "moved", lot: "hedge", to: "out", on: "2025-10-01" }).to).toMatch(
    /^expected a chamber; the lot was in none/,
  );
});

test("a lot that there is not names the nearest", () => {
  const { lot, faults } = openQuillmere();
  expect(faults({ deed: "ended", lot: "hedg" }).lot).toMatch(/there is none yet$/);
  expect(faults({ deed: "ended" }).lot).toBe("expected the id of a lot");
  lot(HEDGE);
  expect(faults({ deed: "ended", lot: "hedg" }).lot).toMatch(/nearest is hedge$/);
});

test("the same sample has the same number of cocoons each time", () => {
  const { lot, entry, faults, last } = openQuillmere();
  lot(HEDGE);
  expect(faults({ deed: "weighed", lot: "hedge", mass_g: "3.2" }).cocoons).toMatch(/^expected a/);
  entry({ deed: "weighed", lot: "hedge", mass_g: "3.2", cocoons: "30", scale_g: "0.001" });
  entry({ deed: "weighed", lot: "hedge", mass_g: "3.1" });
  expect(last().act).toMatchObject({ label: "A", cocoons: 30, massG: 3.1, scaleG: 0.001 });
  const { cocoons } = faults({ deed: "weighed", lot: "hedge", mass_g: "3", cocoons: "29" });
  expect(cocoons).toBe("expected 30, as before in sample A; another sample needs another label");
  entry({ deed: "weighed", lot: "hedge", mass_g: "3", cocoons: "29", label: "B" });
});

test("no more cocoons go than a lot has, and then it is over", () => {
  const { lot, entry, faults, last } = openQuillmere();
  lot(HEDGE);
  expect(faults({ deed: "opened", lot: "hedge", cocoons: "201" }).cocoons).toMatch(/at most 200/);
  const tooMany = { deed: "opened", lot: "hedge", cocoons: "5", parasitised: "3", dead: "3" };
  expect(faults(tooMany).parasitised).toMatch(/^expected no more/);
  entry({ deed: "opened", lot: "hedge", cocoons: "20", parasitised: "2" });
  expect(faults({ deed: "lost", lot: "hedge", cocoons: "181" }).cocoons).toMatch(/at most 180/);
  expect(faults({ deed: "released", lot: "hedge", large: "81" }).large).toMatch(/at most 80/);
  entry({ deed: "released", lot: "hedge", small: "100", on: "2026-01-20" });
  entry({ deed: "released", lot: "hedge", on: "2026-01-25" });
  expect(last().act).toEqual({ kind: "released", small: 20, large: 80 });
  expect(faults({ deed: "weighed", lot: "hedge", mass_g: "3", cocoons: "5" }).lot).toMatch(
    /not yet over/,
  );
});

test("a correction keeps what it leaves out, and stands alone from then on", () => {
  const { entry, faults, last } = openQuillmere(["shed", "barn"]);
  entry({ deed: "inspected", chamber: "barn", saw: "mould", on: "2026-01-11" });
  entry({ corrects: "1", saw: "mites" });
  expect(last()).toMatchObject({
    no: 2,
    corrects: 1,
    chamberId: "barn",
    act: { kind: "inspected", seen: ["mites"] },
  });
  expect(iso(last().atMs)).toBe("2026-01-11T12:00:00.000Z");
  expect(faults({ corrects: "1", deed: "damped" }).corrects).toBe(
    "expected the number of the entry that stands; 2 has corrected this one already",
  );
  expect(faults({ corrects: "9", deed: "damped", chamber: "shed" })).toEqual({
    corrects: "expected the number of an entry in the journal",
  });
  entry({ corrects: "2", deed: "aired", chamber: "shed" });
  expect(last().act).toEqual({ kind: "aired" });
});

test("what is taken back keeps the place of what it takes back", () => {
  const { entry, faults, last } = openQuillmere();
  entry({ deed: "damped" });
  expect(faults({ deed: "withdrawn" }).corrects).toMatch(/^expected the number/);
  entry({ deed: "withdrawn", corrects: "1", words: "it was the other fridge" });
  expect(last()).toMatchObject({ chamberId: "shed", corrects: 1, act: { kind: "withdrawn" } });
});

test("a weighing can be corrected though the sample was weighed again since", () => {
  const { lot, entry, last } = openQuillmere();
  lot(HEDGE);
  entry({ deed: "weighed", lot: "hedge", mass_g: "32", cocoons: "30" });
  entry({ deed: "weighed", lot: "hedge", mass_g: "3.1" });
  entry({ corrects: "2", mass_g: "3.2" });
  expect(last().act).toMatchObject({ massG: 3.2, cocoons: 30 });
  entry({ deed: "weighed", lot: "hedge", label: "B", mass_g: "3.2", cocoons: "29" });
  entry({ corrects: "5", cocoons: "31" });
  expect(last().act).toMatchObject({ label: "B", cocoons: 31 });
});

test("control characters and endless words are refused, line ends are kept", () => {
  const { entry, faults, last } = openQuillmere();
  entry({ deed: "note", words: "one\r\ntwo" });
  expect(last().words).toBe("one\ntwo");
  for (const words of ["a\u0000b", "x".repeat(2_001), " "])
    expect(faults({ deed: "note", words }).words).toMatch(/^expected/);
});
