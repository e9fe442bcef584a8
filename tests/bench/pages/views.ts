import type { Store } from "../../../daemon/store/store.js";
import { excursionAddress, letterAddress } from "../../../daemon/web/address.js";
import type { Excursion } from "../../../shared/excursion.js";
import { END_MS, START_MS } from "./season.js";

/** A view, and where it is. */
export type View = Readonly<{ name: string; address: string }>;

/** Every kind of page, and of each the one that has most to show. */
export function viewsOf({ excursions, letters }: Store): View[] {
  const told = excursions
    .mattering(START_MS, END_MS)
    .filter(({ urgency, endedAtMs }) => urgency !== "note" && endedAtMs !== null);
  const lasted = ({ startedAtMs, endedAtMs }: Excursion) => endedAtMs! - startedAtMs;
  const byLength = told.toSorted((a, b) => lasted(b) - lasted(a));
  // Up to two days with what is around them a picture is drawn from readings: the dearest is there.
  const longest = byLength[0]!;
  const dearest = byLength.find((one) => lasted(one) * (5 / 3) <= 48 * 3_600_000)!;
  const newest = letters.between(START_MS, END_MS + 1).at(-1)!.letter;
  return [
    { name: "now", address: "/" },
    { name: "now, narrow", address: "/?drawn=narrow" },
    { name: "winter", address: "/winter" },
    { name: "winter, narrow", address: "/winter?drawn=narrow" },
    { name: "winter of the other fridge", address: "/winter/attic" },
    { name: "month", address: "/winter/shed/2027-01" },
    { name: "month, narrow", address: "/winter/shed/2027-01?drawn=narrow" },
    { name: "day", address: "/winter/shed/2027-01-19" },
    { name: "day, narrow", address: "/winter/shed/2027-01-19?drawn=narrow" },
    { name: "excursion of two days", address: excursionAddress(dearest.id) },
    { name: "longest excursion", address: excursionAddress(longest.id) },
    { name: "probes", address: "/probes" },
    { name: "due", address: "/due" },
    { name: "lots", address: "/lots" },
    { name: "lot", address: "/lot/shed-2026" },
    { name: "change of a lot", address: "/lot/shed-2026/change" },
    { name: "new lot", address: "/lots/new" },
    { name: "journal", address: "/journal" },
    { name: "writing into it", address: "/journal/write/weighed?lot=shed-2026" },
    { name: "letters", address: "/letters" },
    { name: "letter", address: letterAddress(newest.id) },
  ];
}
