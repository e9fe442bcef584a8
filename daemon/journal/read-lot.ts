import { closest } from "fastest-levenshtein";
import type { Lot, NewEntry } from "../../shared/journal.js";
import { localDay } from "../../shared/site-calendar.js";
import { LOT_COLUMNS, lotFields } from "./columns.js";
import { type Faults, FieldReader, type Typed } from "./fields.js";
import type { Ground } from "./ground.js";
import { readWhen } from "./read-when.js";

/** A lot as read, with its first move where it goes into the cold at once. */
type ReadLot = Readonly<{ lot: Lot; move: NewEntry | null } | { faults: Faults }>;

const WARM_DAYS_MOST = 400;

/** Read a new lot from what was typed; or all that is wrong with it at once. */
export function readNewLot(typed: Typed, ground: Ground): ReadLot {
  const fields = new FieldReader(typed);
  refuseStrangers(fields, typed, LOT_COLUMNS);
  const id = fields.id("lot");
  if (ground.lots.has(id))
    fields.fault("lot", "expected an id of its own; there is a lot of this name already");
  const chamberId = readChamber(fields, ground);
  const atMs = readWhen(fields, "in", ground.site.timezone, ground.nowMs);
  const lot = readFacts(fields, ground, speciesOf(chamberId, ground));
  if (fields.faults !== null) return { faults: fields.faults };
  const act = { kind: "moved", toChamberId: chamberId } as const;
  const move =
    chamberId === null
      ? null
      : { atMs, chamberId: null, lotId: id, act, words: "", corrects: null };
  return { lot, move };
}

/** Read a later version of a lot: what was typed, and the rest as it was. */
export function readLotVersion(typed: Typed, ground: Ground): ReadLot {
  const id = typed.lot?.trim() ?? "";
  const before = ground.lots.get(id);
  const given = Object.entries(typed).filter(([, text]) => text !== undefined && text !== "");
  const fields = new FieldReader({
    ...(before === undefined ? {} : lotFields(before)),
    ...Object.fromEntries(given),
  });
  const moving = ["chamber", "in"];
  refuseStrangers(
    fields,
    typed,
    LOT_COLUMNS.filter((name) => !moving.includes(name)),
  );
  if (before === undefined) fields.fault("lot", unknownLot(id, ground));
  const lot = readFacts(fields, ground, "");
  return fields.faults === null ? { lot, move: null } : { faults: fields.faults };
}

/** What is said of the id of a lot that there is not. */
export function unknownLot(id: string, { lots }: Pick<Ground, "lots">): string {
  const ids = [...lots.keys()];
  const hint = ids.length === 0 ? "there is none yet" : `nearest is ${closest(id, ids)}`;
  return `expected the id of a lot; ${hint}`;
}

function refuseStrangers(fields: FieldReader, typed: Typed, known: readonly string[]): void {
  for (const name of Object.keys(typed))
    if (!known.includes(name) && fields.isGiven(name)) fields.fault(name, "not for a lot");
}

/** Where it goes: as typed, or into the only chamber where just the day was. */
function readChamber(fields: FieldReader, { site }: Ground): string | null {
  const ids = site.chambers.map(({ id }) => id);
  if (!fields.isGiven("chamber")) {
    if (!fields.isGiven("in")) return null;
    if (ids.length === 1) return ids[0]!;
  } else if (ids.includes(fields.text("chamber"))) return fields.text("chamber");
  fields.fault("chamber", `expected one of ${ids.join(", ") || "none, there is none yet"}`);
  return null;
}

/** The species that the chamber, or the only one, is set up for; empty where that says nothing. */
function speciesOf(chamberId: string | null, { site }: Ground): string {
  const [only, ...others] = site.chambers;
  const chamber = site.chambers.find(({ id }) => id === chamberId);
  return chamber?.species ?? (others.length === 0 ? only?.species : undefined) ?? "";
}

function readFacts(fields: FieldReader, ground: Ground, species: string): Lot {
  const harvestedOn = fields.day("harvested");
  const today = localDay(ground.nowMs, ground.site.timezone);
  if (harvestedOn !== null && harvestedOn > today)
    fields.fault("harvested", "expected a day that is not yet to come");
  const [large, small] = [fields.cocoons("large", 0, 0), fields.cocoons("small", 0, 0)];
  if (large + small === 0) fields.fault("large", "expected some cocoons, large or small ones");
  const warmDays = fields.isGiven("warm_days")
    ? fields.amount("warm_days", -1e-9, WARM_DAYS_MOST, "days")
    : null;
  return {
    id: fields.text("lot"),
    species: fields.isGiven("species") || species === "" ? fields.id("species") : species,
    origin: fields.line("origin"),
    harvestedOn,
    large,
    small,
    box: fields.line("box"),
    warmDays,
    words: fields.words("words"),
  };
}
