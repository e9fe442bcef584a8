import { expect, test } from "vitest";
import { entriesThatHold } from "../../../rules/year/journal-view.js";
import { mouldLooks } from "../../../rules/year/lot-looks.js";
import { followLot } from "../../../rules/year/lot-stays.js";
import { journalOf } from "./entries.js";

const noon = (day: string) => Date.parse(`${day}T12:00:00Z`);
const into = (at: string, toChamberId: string | null) =>
  ({ at, act: { kind: "moved", toChamberId }, lotId: "hedge" }) as const;
type Told = Parameters<typeof journalOf>[number];
const look = (at: string, mould: boolean, where: Partial<Told> = {}): Told => ({
  at,
  act: { kind: "inspected", seen: [mould ? "mould" : "mites"] },
  chamberId: "shed",
  ...where,
});
const STAYS = [into("2025-11-01", "shed"), into("2026-01-10", "barn")] as const;

/** What was seen of the lot hedge, which lay in the shed and then in the barn. */
function seen(...looks: Parameters<typeof journalOf>) {
  const holding = entriesThatHold(journalOf(...STAYS, ...looks));
  const { stays } = followLot("hedge", holding, { large: 80, small: 120 });
  return mouldLooks("hedge", stays, holding);
}

test("the last look counts, and the last time that there was mould stays beside it", () => {
  expect(seen()).toBeNull();
  expect(seen(look("2025-12-01", false))).toEqual({
    lookedMs: noon("2025-12-01"),
    seen: false,
    seenMs: null,
  });
  expect(seen(look("2025-12-01", true), look("2025-12-20", false))).toEqual({
    lookedMs: noon("2025-12-20"),
    seen: false,
    seenMs: noon("2025-12-01"),
  });
  expect(seen(look("2025-12-01", false), look("2025-12-20", true))).toMatchObject({
    lookedMs: noon("2025-12-20"),
    seen: true,
    seenMs: noon("2025-12-20"),
  });
});

test("only looks at where the lot lay at that time count, and at the lot itself", () => {
  expect(seen(look("2025-10-31", true))).toBeNull();
  expect(seen(look("2026-01-11", true))).toBeNull();
  expect(seen(look("2026-01-11", true, { chamberId: "barn" }))?.seen).toBe(true);
  expect(seen(look("2025-12-01", true, { lotId: "other" }))).toBeNull();
  expect(seen(look("2026-02-01", true, { lotId: "hedge" }))?.seen).toBe(true);
});
