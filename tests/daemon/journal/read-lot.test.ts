import { expect, test } from "vitest";
import type { Typed } from "../../../daemon/journal/fields.js";
import { HEDGE, openQuillmere } from "./ground.js";

test("a lot that goes into the cold has its first move written with it", () => {
  const { lot, draft } = openQuillmere();
  lot({ ...HEDGE, origin: "the hedge", harvested: "2025-10-04", warm_days: "20.5", box: "A1" });
  expect(draft.batch()).toEqual({
    lots: [
      {
        id: "hedge",
        species: "osmia-bicornis",
        origin: "the hedge",
        harvestedOn: "2025-10-04",
        large: 80,
        small: 120,
        box: "A1",
        warmDays: 20.5,
        words: "",
      },
    ],
    entries: [
      {
        atMs: Date.UTC(2025, 10, 1, 12),
        chamberId: null,
        lotId: "hedge",
        act: { kind: "moved", toChamberId: "shed" },
        words: "",
        corrects: null,
      },
    ],
  });
});

test("a lot may wait outside the cold, and a day alone means the only chamber", () => {
  const { lot, draft } = openQuillmere();
  lot({ lot: "waits", small: "5", warm_days: "0" });
  expect(draft.batch().entries).toEqual([]);
  expect(draft.batch().lots[0]).toMatchObject({ large: 0, small: 5, warmDays: 0 });
  lot({ lot: "goes", small: "5", in: "2026-01-01" });
  expect(draft.batch().entries[0]).toMatchObject({ act: { toChamberId: "shed" } });
});

test.each<[string, Typed, string, RegExp]>([
  ["no name", { lot: "", large: "1" }, "lot", /letters, digits/],
  ["a name with a space", { lot: "the hedge", large: "1" }, "lot", /letters, digits/],
  ["no cocoons", { lot: "a" }, "large", /some cocoons/],
  ["half a cocoon", { lot: "a", large: "1.5" }, "large", /whole number from 0/],
  ["fewer than none", { lot: "a", large: "-1" }, "large", /whole number from 0/],
  ["many", { lot: "a", large: "lots" }, "large", /whole number from 0/],
  ["a day to come", { lot: "a", large: "1", harvested: "2026-02-02" }, "harvested", /not yet/],
  ["no day", { lot: "a", large: "1", harvested: "autumn" }, "harvested", /a day such as/],
  ["a strange chamber", { lot: "a", large: "1", chamber: "loft" }, "chamber", /one of shed/],
  ["a strange field", { lot: "a", large: "1", colour: "red" }, "colour", /not for a lot/],
  ["warmth for years", { lot: "a", large: "1", warm_days: "999" }, "warm_days", /up to 400 days/],
  ["a strange species", { lot: "a", large: "1", species: "a bee" }, "species", /letters, digits/],
])("a lot with %s is refused", (_what, typed, field, fault) => {
  const { draft } = openQuillmere();
  expect(draft.addLot(typed)?.[field]).toMatch(fault);
  expect(draft.batch().lots).toEqual([]);
});

test("two lots have two names", () => {
  const { lot, draft } = openQuillmere();
  lot(HEDGE);
  expect(draft.addLot(HEDGE)?.lot).toMatch(/an id of its own/);
});

test("a later version keeps what it leaves out, and says nothing of where the lot is", () => {
  const { lot, draft, versions } = openQuillmere();
  lot({ ...HEDGE, origin: "the hedge" });
  expect(draft.changeLot({ lot: "hedge", large: "82" })).toBeNull();
  expect(versions().at(-1)).toMatchObject({ large: 82, small: 120, origin: "the hedge" });
  expect(draft.changeLot({ lot: "hedge", chamber: "shed" })).toEqual({ chamber: "not for a lot" });
  expect(draft.changeLot({ lot: "hedg", large: "1" })?.lot).toMatch(/nearest is hedge$/);
});

test("with two chambers of different species the species has to be told", () => {
  const { draft } = openQuillmere(["shed", "barn"]);
  expect(draft.addLot({ lot: "a", large: "1" })?.species).toMatch(/letters, digits/);
  expect(draft.addLot({ lot: "a", large: "1", chamber: "barn" })).toBeNull();
});
