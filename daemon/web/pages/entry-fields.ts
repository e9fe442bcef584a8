import { type ActKind, SIGHTS } from "../../../shared/journal.js";
import { ACT_FIELDS, NOTHING_SEEN, OUT } from "../../journal/acts.js";
import { SIGHT_WORDS } from "../../journal/entry-words.js";
import { boxName, type Field, type Typed } from "../form.js";

/** What a deed is called where a keeper chooses one. */
export const DEED_WORDS: Readonly<Record<ActKind, string>> = {
  damped: "Damped the paper",
  aired: "Aired the boxes",
  "paper-changed": "Changed the paper",
  cleaned: "Cleaned the fridge",
  inspected: "Looked through the boxes",
  bloom: "Saw bloom",
  note: "A note",
  moved: "Moved a lot",
  weighed: "Weighed a sample",
  opened: "Opened a sample",
  lost: "Found cocoons spoilt",
  released: "Put cocoons out to fly",
  ended: "Gave a lot up",
  withdrawn: "Take an entry back",
};

const cocoons = { kind: "text", more: { inputmode: "numeric" } } as const;
const grams = { kind: "text", more: { inputmode: "decimal" } } as const;

/** The choices of a form, by what there is. */
export type Choices = Readonly<{ chambers: readonly string[]; lots: readonly string[] }>;

/** The fields of the form for a deed, in the order in which they are asked. */
export function fieldsFor(kind: ActKind, { chambers, lots }: Choices): readonly Field[] {
  const ids = (some: readonly string[], none: string) =>
    [["", none], ...some.map((id) => [id, id] as const)] as const;
  const inChambers = { kind: "choice", choices: ids(chambers, "") } as const;
  const fields: Readonly<Record<string, Field>> = {
    chamber: { name: "chamber", label: "Where", ...inChambers, hint: hintFor(kind) },
    lot: { name: "lot", label: "Lot", kind: "choice", choices: ids(lots, "") },
    saw: {
      name: "saw",
      label: "What you saw",
      kind: "several",
      choices: [
        [NOTHING_SEEN, "nothing amiss"],
        ...SIGHTS.map((sight) => [sight, SIGHT_WORDS[sight]] as const),
      ],
    },
    to: {
      name: "to",
      label: "Where to",
      kind: "choice",
      choices: [...ids(chambers, ""), [OUT, "out of the cold"]],
    },
    label: { name: "label", label: "Label of the sample", hint: 'Left empty it is "A".' },
    cocoons: { name: "cocoons", label: "Cocoons", ...cocoons, hint: cocoonsHint(kind) },
    mass_g: { name: "mass_g", label: "Mass, g", ...grams },
    scale_g: {
      name: "scale_g",
      label: "Step of the scale, g",
      ...grams,
      hint: "Left empty it is as before, or 0.01 g.",
    },
    parasitised: { name: "parasitised", label: "Of these, parasitised", ...cocoons },
    dead: { name: "dead", label: "Of these, dead otherwise", ...cocoons },
    small: {
      name: "small",
      label: "Small ones",
      ...cocoons,
      hint: "Mostly males. With both left empty, all that are left.",
    },
    large: { name: "large", label: "Large ones", ...cocoons, hint: "Mostly females." },
  };
  return [
    ...ACT_FIELDS[kind].map((name) => fields[name]!),
    ...(kind === "withdrawn" ? [] : [WHEN]),
    { name: "words", label: "In your own words", kind: "lines" },
  ];
}

const WHEN: Field = {
  name: "on",
  label: "When",
  hint: "Left empty it is now.",
  kind: "datetime-local",
};

/** With a lot it is known where. */
function hintFor(kind: ActKind): string {
  return ACT_FIELDS[kind].includes("lot") ? "Left empty it is where the lot was." : "";
}

function cocoonsHint(kind: ActKind): string {
  return kind === "weighed" ? "Needed the first time, 30 or more; then as before." : "";
}

/** Boxes that were ticked, as the one text that a command would take. */
export function gatherBoxes(typed: Typed): Typed {
  const ticked = [NOTHING_SEEN, ...SIGHTS].filter((value) => typed[boxName("saw", value)]);
  const rest = Object.entries(typed).filter(([name]) => !name.startsWith("saw-"));
  return { ...Object.fromEntries(rest), ...(ticked.length > 0 && { saw: ticked.join(" ") }) };
}

/** The other way round, to show a form as it was. */
export function spreadBoxes({ saw = "", ...typed }: Typed): Typed {
  const boxes = saw.split(" ").filter(Boolean);
  return { ...typed, ...Object.fromEntries(boxes.map((value) => [boxName("saw", value), "yes"])) };
}
