import type { z } from "zod";
import { type Filling, html, type Markup } from "../html.js";

/** What was typed into a form, as it came; the first value of each name. */
export type Typed = Readonly<Record<string, string>>;

/** What is wrong with which field, in the keeper's words. */
export type FormFaults = Readonly<Record<string, string>>;

/** A form read: its values, or what is wrong. */
type Read<Values> = Readonly<{ values: Values } | { faults: FormFaults }>;

/**
 * Check what was typed. The messages of the schema are shown beside their fields.
 *
 * @param schema of fields by name; what it does not name is left out
 */
export function readForm<Values>(schema: z.ZodType<Values>, typed: Typed): Read<Values> {
  const result = schema.safeParse(typed);
  if (result.success) return { values: result.data };
  const faults: Record<string, string> = {};
  for (const { path, message } of result.error.issues) faults[String(path[0] ?? "")] ??= message;
  return { faults };
}

/** One field of a form. What was typed stays in it when it is shown again. */
export type Field = Readonly<{
  name: string;
  label: string;
  hint?: string;
  /** An input's type, or a kind of its own; text unless told. */
  kind?:
    | "text"
    | "date"
    | "datetime-local"
    | "number"
    | "password"
    | "lines"
    | "choice"
    | "several";
  /** For a choice, or several: value and words of each. */
  choices?: readonly (readonly [value: string, words: string])[];
  required?: boolean;
  /** Attributes such as autocomplete, inputmode, step, min and max. */
  more?: Readonly<Record<string, string>>;
}>;

/** What a form of ours consists of. It posts to the page it stands on unless `to` says otherwise. */
export type FormPlan = Readonly<{
  to?: string;
  fields: readonly Field[];
  /** Values that the keeper does not see. */
  hidden?: Readonly<Record<string, string>>;
  /** The word on its button. */
  deed: string;
  typed?: Typed;
  faults?: FormFaults;
}>;

/** Set a form; with faults, they stand above it with a link to each field, and beside the field. */
export function setForm({ to, fields, hidden = {}, deed, typed = {}, faults = {} }: FormPlan) {
  const carried = Object.entries(hidden).map(
    ([name, value]) => html`<input type="hidden" name="${name}" value="${value}">\n`,
  );
  return html`<form method="post"${to === undefined ? null : html` action="${to}"`} novalidate>
${setFaults(fields, faults)}${carried}${fields.map((field) => setField(field, typed, faults))}<p><button>${deed}</button></p>
</form>
`;
}

/** A form that is a button and nothing else. */
export function setDeed(to: string, hidden: Readonly<Record<string, string>>, deed: string) {
  return setForm({ to, hidden, fields: [], deed });
}

function setFaults(fields: readonly Field[], faults: FormFaults): Markup | null {
  const told = Object.entries(faults);
  if (told.length === 0) return null;
  const lines = told.map(([name, fault]) => {
    const field = fields.find((one) => one.name === name);
    return field === undefined
      ? html`<li>${fault}</li>\n`
      : html`<li><a href="#field-${name}">${field.label}: ${fault}</a></li>\n`;
  });
  return html`<div class="faults" role="alert">
<h2>Please see to this first</h2>
<ul>
${lines}</ul>
</div>
`;
}

function setField(field: Field, typed: Typed, faults: FormFaults): Markup {
  const { name, label, hint } = field;
  const fault = faults[name];
  const hintMark = hint && html`<span class="hint" id="hint-${name}">${hint}</span>`;
  const faultMark = fault && html`<span class="fault" id="fault-${name}">${fault}</span>`;
  if (field.kind === "several")
    return html`<fieldset class="field" id="field-${name}" tabindex="-1"><legend>${label}</legend>
${hintMark}${faultMark}${setBoxes(field, typed)}</fieldset>
`;
  return html`<p class="field"><label for="field-${name}">${label}</label>
${hintMark}${faultMark}${setControl(field, typed[name] ?? "", fault !== undefined)}</p>
`;
}

/** The name under which one box of several is posted; it has a value only where it is ticked. */
export const boxName = (name: string, value: string): string => `${name}-${value}`;

function setBoxes({ name, choices = [] }: Field, typed: Typed): Markup[] {
  return choices.map(([value, words]) => {
    const box = boxName(name, value);
    const ticked = typed[box] !== undefined && html` checked`;
    return html`<label class="box"><input type="checkbox" name="${box}" value="yes"${ticked}> ${words}</label>
`;
  });
}

function setControl(field: Field, value: string, isFaulty: boolean): Markup {
  const { name, kind = "text", choices = [], required = false, hint, more = {} } = field;
  const told = [hint && `hint-${name}`, isFaulty && `fault-${name}`].filter(Boolean).join(" ");
  const common: Filling[] = [
    html` id="field-${name}" name="${name}"`,
    required && html` required`,
    told !== "" && html` aria-describedby="${told}"`,
    isFaulty && html` aria-invalid="true"`,
    Object.entries(more).map(([key, text]) => html` ${attributeName(key)}="${text}"`),
  ];
  if (kind === "lines")
    return html`<textarea rows="4"${common}>
${value}</textarea>`;
  if (kind !== "choice") {
    // A password is never sent back.
    const shown = kind === "password" ? null : html` value="${value}"`;
    return html`<input type="${kind}"${common}${shown}>`;
  }
  const options = choices.map(
    ([one, words]) =>
      html`<option value="${one}"${one === value && html` selected`}>${words}</option>\n`,
  );
  return html`<select${common}>
${options}</select>`;
}

/** @throws {TypeError} on what is no attribute's name, which would be a mistake of ours */
function attributeName(name: string): string {
  if (!/^[a-z-]+$/.test(name)) throw new TypeError(`"${name}" is no attribute's name`);
  return name;
}
