import { closest } from "fastest-levenshtein";
import { chamberAt, type LotCourse } from "../../rules/year/lot-stays.js";
import type { ActKind, Entry, Lot, NewEntry } from "../../shared/journal.js";
import { ACT_FIELDS, ACT_KINDS, type ActGround, readAct } from "./acts.js";
import { entryFields } from "./columns.js";
import { type Faults, FieldReader, type Typed } from "./fields.js";
import { courseIn, type Ground } from "./ground.js";
import { unknownLot } from "./read-lot.js";
import { readWhen } from "./read-when.js";

type ReadEntry = Readonly<{ entry: NewEntry } | { faults: Faults }>;

/** What every deed may have said of it. */
const COMMON = ["on", "deed", "words", "corrects"];
/** Deeds done to a lot and to no chamber as such. */
const OF_LOTS: readonly ActKind[] = ["moved", "weighed", "opened", "lost", "released", "ended"];
/** Deeds that are done in a chamber, so that it must be known which. */
const IN_CHAMBERS: readonly ActKind[] = [
  "damped",
  "aired",
  "paper-changed",
  "cleaned",
  "inspected",
];

/**
 * Read an entry from what was typed, be it at a command, into a form or in a line of a CSV. What a
 * correction leaves out stays as it was.
 *
 * @returns the entry, or all that is wrong with it at once
 */
export function readEntry(typed: Typed, ground: Ground): ReadEntry {
  const corrected = correctedEntry(typed, ground);
  const fields = new FieldReader(corrected === null ? typed : filledUp(typed, corrected));
  const corrects = corrected?.no ?? readCorrects(fields, ground);
  const kind = readKind(fields);
  const atMs = readWhen(fields, "on", ground.site.timezone, ground.nowMs);
  const words = fields.words("words");
  if (kind === null) return { faults: fields.faults! };
  refuseStrangers(fields, typed, kind);
  if (kind === "withdrawn" && corrected === null && fields.faults === null)
    fields.fault("corrects", "expected the number of the entry to take back");
  if (kind === "withdrawn" && corrected !== null) {
    const { chamberId, lotId } = corrected;
    const entry = { atMs, chamberId, lotId, act: { kind }, words, corrects } as const;
    return fields.faults === null ? { entry } : { faults: fields.faults };
  }
  const place = readPlace(fields, kind, atMs, ground, corrects);
  const act = readAct(kind, fields, { ...place, ground, atMs, without: corrects });
  if (fields.faults !== null) return { faults: fields.faults };
  const { chamberId, lot } = place;
  return { entry: { atMs, chamberId, lotId: lot?.id ?? null, act, words, corrects } };
}

function refuseStrangers(fields: FieldReader, typed: Typed, kind: ActKind): void {
  const known = [...COMMON, ...ACT_FIELDS[kind]];
  for (const name of Object.keys(typed))
    if (fields.isGiven(name) && !known.includes(name)) fields.fault(name, `not for ${kind}`);
}

/** The entry to correct, where there is one that still may be. */
function correctedEntry({ corrects = "" }: Typed, { entries }: Ground): Entry | null {
  const no = Number(corrects.trim());
  const isCorrected = entries.some((entry) => entry.corrects === no);
  return isCorrected ? null : (entries.find((entry) => entry.no === no) ?? null);
}

/** What was typed; where the deed stays the same, the rest as it was. */
function filledUp(typed: Typed, corrected: Entry): Typed {
  const before = entryFields(corrected);
  const deed = typed.deed?.trim() || before.deed;
  const given = Object.entries(typed).filter(([, text]) => text !== undefined && text !== "");
  if (deed !== before.deed) return { ...Object.fromEntries(given), deed };
  const kept = { ...before };
  // Another lot may have been elsewhere.
  if (typed.lot) delete kept.chamber;
  return { ...kept, ...Object.fromEntries(given), deed };
}

function readCorrects(fields: FieldReader, { entries }: Ground): number | null {
  if (!fields.isGiven("corrects")) return null;
  const text = fields.text("corrects");
  const by = entries.find(({ corrects }) => String(corrects) === text);
  fields.fault(
    "corrects",
    by === undefined
      ? "expected the number of an entry in the journal"
      : `expected the number of the entry that stands; ${by.no} has corrected this one already`,
  );
  return null;
}

function readKind(fields: FieldReader): ActKind | null {
  const text = fields.text("deed").toLowerCase();
  const kind = ACT_KINDS.find((known) => known === text) ?? null;
  const hint = text === "" ? "" : `; nearest is ${closest(text, ACT_KINDS)}`;
  if (kind === null) fields.fault("deed", `expected one of ${ACT_KINDS.join(", ")}${hint}`);
  return kind;
}

type Place = Pick<ActGround, "chamberId" | "lot" | "course">;

function readPlace(
  fields: FieldReader,
  kind: ActKind,
  atMs: number,
  ground: Ground,
  without: number | null,
): Place {
  const lot = readLotName(fields, kind, ground);
  const course = lot === null ? null : courseIn(ground, lot, without);
  const { chambers } = ground.site;
  if (fields.isGiven("chamber")) {
    const id = fields.text("chamber");
    const isKnown = chambers.some((chamber) => chamber.id === id);
    const known = chambers.map((chamber) => chamber.id).join(", ");
    if (!isKnown) fields.fault("chamber", `expected one of ${known || "none, there is none yet"}`);
    return { chamberId: isKnown ? id : null, lot, course };
  }
  const chamberId = lot === null ? null : chamberOf(course, atMs);
  if (chamberId !== null || !IN_CHAMBERS.includes(kind)) return { chamberId, lot, course };
  if (lot === null && chambers.length === 1) return { chamberId: chambers[0]!.id, lot, course };
  fields.fault(
    "chamber",
    lot === null
      ? `expected one of ${chambers.map(({ id }) => id).join(", ")}`
      : "expected the chamber; the lot was in none at that time",
  );
  return { chamberId: null, lot, course };
}

const chamberOf = (course: LotCourse | null, atMs: number): string | null =>
  course === null ? null : chamberAt(course, atMs);

function readLotName(fields: FieldReader, kind: ActKind, { lots }: Ground): Lot | null {
  if (!fields.isGiven("lot")) {
    if (OF_LOTS.includes(kind)) fields.fault("lot", "expected the id of a lot");
    return null;
  }
  const id = fields.text("lot");
  const lot = lots.get(id) ?? null;
  if (lot === null) fields.fault("lot", unknownLot(id, { lots }));
  return lot;
}
