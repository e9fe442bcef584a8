import { chamberAt, type LotCourse } from "../../rules/year/lot-stays.js";
import { type Act, type ActKind, type Lot, SIGHTS, type Sight } from "../../shared/journal.js";
import type { FieldReader } from "./fields.js";
import { type Ground, holdingIn } from "./ground.js";

/** Which fields each deed has, beside when it was done and the words on it. */
export const ACT_FIELDS: Readonly<Record<ActKind, readonly string[]>> = {
  damped: ["chamber", "lot"],
  aired: ["chamber", "lot"],
  "paper-changed": ["chamber", "lot"],
  cleaned: ["chamber"],
  inspected: ["chamber", "lot", "saw"],
  bloom: [],
  note: ["chamber", "lot"],
  moved: ["lot", "to"],
  weighed: ["lot", "label", "cocoons", "mass_g", "scale_g"],
  opened: ["lot", "cocoons", "parasitised", "dead"],
  lost: ["lot", "cocoons"],
  released: ["lot", "small", "large"],
  ended: ["lot"],
  withdrawn: [],
};

/** Every deed, in the order in which a keeper is told them. */
export const ACT_KINDS = Object.keys(ACT_FIELDS) as readonly ActKind[];

/** The word that says that a move leads out of the cold. */
export const OUT = "out";
/** The word that says that nothing was seen that should not be there. */
export const NOTHING_SEEN = "nothing";

/** What a deed is checked against. */
export type ActGround = Readonly<{
  chamberId: string | null;
  lot: Lot | null;
  /** What became of the lot; null without one. */
  course: LotCourse | null;
  ground: Ground;
  atMs: number;
  /** The entry that is being corrected, which no longer counts. */
  without: number | null;
}>;

const MASS_MOST_G = 10_000;
const SCALE_MOST_G = 100;
/** What a pocket scale shows; common practice, no source. */
const SCALE_G = 0.01;
const LABEL = "A";

/** Read what goes with a deed; what is wrong goes to the fields' faults. */
export function readAct(kind: ActKind, fields: FieldReader, on: ActGround): Act {
  if (on.course !== null && on.course.overAtMs !== null && on.atMs > on.course.overAtMs)
    fields.fault("lot", "expected a lot that was not yet over at that time");
  switch (kind) {
    case "inspected":
      return { kind, seen: readSights(fields) };
    case "note":
      if (!fields.isGiven("words")) fields.fault("words", "expected some words");
      return { kind };
    case "moved":
      return { kind, toChamberId: readTarget(fields, on) };
    case "weighed":
      return readWeighing(fields, on);
    case "opened":
      return readSample(fields, on);
    case "lost":
      return { kind, cocoons: boundByLot(fields, "cocoons", fields.cocoons("cocoons", 1), on) };
    case "released":
      return readReleased(fields, on);
    default:
      return { kind };
  }
}

function readSights(fields: FieldReader): readonly Sight[] {
  const words = fields
    .text("saw")
    .toLowerCase()
    .split(/[\s,;]+/)
    .filter(Boolean);
  const isNothing = words.length === 1 && words[0] === NOTHING_SEEN;
  const seen = SIGHTS.filter((sight) => words.includes(sight));
  if (!isNothing && (words.length === 0 || words.length !== seen.length))
    fields.fault("saw", `expected ${NOTHING_SEEN}, or some of ${SIGHTS.join(", ")}`);
  return seen;
}

function readTarget(fields: FieldReader, { course, ground, atMs }: ActGround): string | null {
  const text = fields.text("to");
  const ids = ground.site.chambers.map(({ id }) => id);
  if (text !== OUT && !ids.includes(text)) {
    fields.fault("to", `expected ${[...ids, OUT].join(", ")}`);
    return null;
  }
  const target = text === OUT ? null : text;
  if (course !== null && chamberAt(course, atMs) === target)
    fields.fault(
      "to",
      target === null
        ? "expected a chamber; the lot was in none at that time"
        : "expected another chamber; the lot was there already at that time",
    );
  return target;
}

function readWeighing(fields: FieldReader, on: ActGround): Act {
  const label = fields.isGiven("label") ? fields.line("label") : LABEL;
  const before = holdingIn(on.ground, on.without)
    .map(({ act, lotId }) => (lotId === on.lot?.id && act.kind === "weighed" ? act : null))
    .findLast((act) => act !== null && act.label === label);
  const cocoons = fields.cocoons("cocoons", 1, before?.cocoons ?? null);
  if (before && cocoons !== before.cocoons)
    fields.fault(
      "cocoons",
      `expected ${before.cocoons}, as before in sample ${label}; another sample needs another label`,
    );
  const massG = fields.amount("mass_g", 0, MASS_MOST_G, "g");
  const scaleG = fields.amount("scale_g", 0, SCALE_MOST_G, "g", before?.scaleG ?? SCALE_G);
  return { kind: "weighed", label, cocoons, massG, scaleG };
}

function readSample(fields: FieldReader, on: ActGround): Act {
  const cocoons = boundByLot(fields, "cocoons", fields.cocoons("cocoons", 1), on);
  const parasitised = fields.cocoons("parasitised", 0, 0);
  const dead = fields.cocoons("dead", 0, 0);
  if (parasitised + dead > cocoons)
    fields.fault("parasitised", "expected no more parasitised and dead than were opened");
  return { kind: "opened", cocoons, parasitised, dead };
}

function readReleased(fields: FieldReader, { lot, course }: ActGround): Act {
  const left = {
    small: (lot?.small ?? 0) - (course?.releasedSmall ?? 0),
    large: (lot?.large ?? 0) - (course?.releasedLarge ?? 0),
  };
  const isAll = !fields.isGiven("small") && !fields.isGiven("large");
  const read = (name: "small" | "large"): number => {
    const count = fields.cocoons(name, 0, isAll ? left[name] : 0);
    if (lot !== null && count > left[name])
      fields.fault(name, `expected at most ${left[name]}, which is what the lot has left`);
    return count;
  };
  const [small, large] = [read("small"), read("large")];
  if (small + large === 0) fields.fault("small", "expected some cocoons to be put out");
  return { kind: "released", small, large };
}

function boundByLot(
  fields: FieldReader,
  name: string,
  count: number,
  { lot, course }: ActGround,
): number {
  if (lot === null || course === null) return count;
  const { opened, lost, releasedSmall, releasedLarge } = course;
  const left = lot.small + lot.large - opened - lost - releasedSmall - releasedLarge;
  if (count > left) fields.fault(name, `expected at most ${left}, which is what the lot has left`);
  return count;
}
