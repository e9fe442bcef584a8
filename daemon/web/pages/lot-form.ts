import { SPECIES } from "../../../rules/species.js";
import type { Lot } from "../../../shared/journal.js";
import { html } from "../../html.js";
import { lotFields } from "../../journal/columns.js";
import type { Draft } from "../../journal/draft.js";
import { followLots } from "../../journal/lot-report.js";
import { writeJournal } from "../../journal/write-journal.js";
import { NOT_FOR_FOOD } from "../../letters/cautions.js";
import { LOTS, lotAddress, lotChangeAddress, NEW_LOT } from "../address.js";
import { type Field, type FormFaults, setForm, type Typed } from "../form.js";
import { onceField, takeOnce } from "../once.js";
import type { Asking, Page, Shown } from "../page.js";

const count = { more: { inputmode: "numeric" } } as const;

/** The form that enters a lot. */
export const NEW_LOT_PAGE: Page = {
  path: NEW_LOT,
  writes: true,
  show: (asking) => showNew(asking, firstGuess(asking), {}),
  take(asking, posted) {
    const { store, config, nowMs } = asking;
    const { typed, onceId } = takeOnce(posted, asking);
    const write = (draft: Draft) => draft.addLot(typed);
    const wrote = writeJournal(store, config.site, nowMs, write, onceId);
    return "wrong" in wrote
      ? { ...showNew(asking, posted, wrote.wrong), status: 422 }
      : { goTo: writtenAddress(typed.lot?.trim() ?? "", wrote) };
  },
};

/** The form that writes a later version of a lot. */
export const LOT_CHANGE_PAGE: Page = {
  path: "/lot/:id/change",
  writes: true,
  show(asking) {
    const lot = lotOf(asking);
    if (lot === null) return null;
    const before = Object.entries(lotFields(lot)).filter(([, text]) => text !== undefined);
    return showChange(lot.id, asking, Object.fromEntries(before), {});
  },
  take(asking, posted) {
    const lot = lotOf(asking);
    if (lot === null) return null;
    const { store, config, nowMs } = asking;
    const { id } = lot;
    const { typed, onceId } = takeOnce(posted, asking);
    const write = (draft: Draft) => draft.changeLot({ ...typed, lot: id });
    const wrote = writeJournal(store, config.site, nowMs, write, onceId);
    return "wrong" in wrote
      ? { ...showChange(id, asking, posted, wrote.wrong), status: 422 }
      : { goTo: writtenAddress(id, wrote) };
  },
};

const lotOf = ({ store, parts }: Asking): Lot | null =>
  followLots(store).find(({ lot }) => lot.id === parts.id)?.lot ?? null;

const writtenAddress = (id: string, { isAgain }: Readonly<{ isAgain: boolean }>): string =>
  `${lotAddress(id)}${isAgain ? "?again=yes" : ""}`;

/** The only chamber and its species; a keeper with more has to choose. */
function firstGuess({ config }: Asking): Typed {
  const [only, ...others] = config.site.chambers;
  return only === undefined || others.length > 0 ? {} : { chamber: only.id, species: only.species };
}

function showNew(asking: Asking, typed: Typed, faults: FormFaults): Shown {
  const chambers = asking.config.site.chambers.map(({ id }) => [id, id] as const);
  const fields: Field[] = [
    {
      name: "lot",
      label: "Name",
      hint: "Letters, digits, - and _, such as hedge-2025.",
      required: true,
    },
    ...factFields(asking, typed),
    {
      name: "chamber",
      label: "Goes into",
      kind: "choice",
      choices: [["", "not into the cold yet"], ...chambers],
    },
    { name: "in", label: "Since", kind: "datetime-local", hint: "Left empty it is now." },
    WORDS,
  ];
  const hidden = onceField(typed, asking);
  const form = setForm({ fields, typed, faults, hidden, deed: "Enter the lot" });
  const main = html`<h1>Enter a lot</h1>
<p>${NOT_FOR_FOOD}</p>
${form}<p><a href="${LOTS}">Back to the lots</a></p>
`;
  return { title: "Enter a lot", main };
}

function showChange(id: string, asking: Asking, typed: Typed, faults: FormFaults): Shown {
  const fields = [...factFields(asking, typed), WORDS];
  const form = setForm({
    fields,
    typed,
    faults,
    hidden: onceField(typed, asking),
    to: lotChangeAddress(id),
    deed: "Write the new version",
  });
  const main = html`<h1>Change ${id}</h1>
<p>The version before is kept. Where the lot is, the journal says.</p>
${form}<p><a href="${lotAddress(id)}">Back to the lot</a></p>
`;
  return { title: `Change ${id}`, main };
}

const WORDS: Field = { name: "words", label: "In your own words", kind: "lines" };

function factFields({ config }: Asking, typed: Typed): Field[] {
  const known = [...(config.site.ownSpecies ?? []), ...SPECIES];
  // A lot may be of a species of which nothing is known; a change of its box leaves it so.
  const strange = typed.species !== undefined && !known.some(({ id }) => id === typed.species);
  return [
    {
      name: "species",
      label: "Species",
      kind: "choice",
      choices: [
        ...known.map(({ id, name }) => [id, name] as const),
        ...(strange ? [[typed.species!, typed.species!] as const] : []),
      ],
    },
    { name: "large", label: "Large cocoons", hint: "Mostly females.", ...count },
    { name: "small", label: "Small cocoons", hint: "Mostly males.", ...count },
    { name: "origin", label: "Origin" },
    { name: "harvested", label: "Harvested", kind: "date" },
    { name: "box", label: "Box or boxes" },
    {
      name: "warm_days",
      label: "Warm days as adults before the cold",
      hint: "Two to four weeks are advised.",
      ...count,
    },
  ];
}
