import type { Entry, Lot } from "../../shared/journal.js";
import { formatRfc3339 } from "../../shared/rfc3339.js";
import { ACT_FIELDS } from "./acts.js";

/** The columns of a journal as CSV; the same names as those of the fields that are typed. */
export const ENTRY_COLUMNS = [
  "entry",
  "on",
  "deed",
  "chamber",
  "lot",
  "saw",
  "to",
  "label",
  "cocoons",
  "mass_g",
  "scale_g",
  "parasitised",
  "dead",
  "small",
  "large",
  "words",
  "corrects",
  "written",
] as const;
type EntryColumn = (typeof ENTRY_COLUMNS)[number];

/** The columns of lots as CSV. `chamber` and `in` only begin a lot; where it went, the journal says. */
export const LOT_COLUMNS = [
  "lot",
  "species",
  "origin",
  "harvested",
  "large",
  "small",
  "box",
  "warm_days",
  "chamber",
  "in",
  "words",
] as const;
type LotColumn = (typeof LOT_COLUMNS)[number];

/** An entry as the fields that would be typed for it, with its number and when it was written. */
export function entryFields(entry: Entry): Partial<Record<EntryColumn, string>> & { deed: string } {
  const { no, atMs, act, chamberId, lotId, words, corrects, writtenAtMs } = entry;
  const has = (name: string) => ACT_FIELDS[act.kind].includes(name);
  return {
    entry: String(no),
    on: formatRfc3339(atMs),
    deed: act.kind,
    ...(has("chamber") && chamberId !== null && { chamber: chamberId }),
    ...(has("lot") && lotId !== null && { lot: lotId }),
    ...actFields(entry),
    words,
    ...(corrects !== null && { corrects: String(corrects) }),
    written: formatRfc3339(writtenAtMs),
  };
}

function actFields({ act }: Entry): Partial<Record<EntryColumn, string>> {
  switch (act.kind) {
    case "inspected":
      return { saw: act.seen.join(" ") || "nothing" };
    case "moved":
      return { to: act.toChamberId ?? "out" };
    case "weighed":
      return {
        label: act.label,
        cocoons: String(act.cocoons),
        mass_g: String(act.massG),
        scale_g: String(act.scaleG),
      };
    case "opened":
      return {
        cocoons: String(act.cocoons),
        parasitised: String(act.parasitised),
        dead: String(act.dead),
      };
    case "lost":
      return { cocoons: String(act.cocoons) };
    case "released":
      return { small: String(act.small), large: String(act.large) };
    default:
      return {};
  }
}

/** A lot as the fields that would be typed for it. */
export function lotFields(lot: Lot): Partial<Record<LotColumn, string>> {
  return {
    lot: lot.id,
    species: lot.species,
    origin: lot.origin,
    harvested: lot.harvestedOn ?? "",
    large: String(lot.large),
    small: String(lot.small),
    box: lot.box,
    warm_days: lot.warmDays === null ? "" : String(lot.warmDays),
    words: lot.words,
  };
}
