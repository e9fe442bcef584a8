import { expect, test } from "vitest";
import { z } from "zod";
import { readForm, setForm } from "../../../daemon/web/form.js";

const WEIGHING = z.object({
  lot: z.string().min(1, "expected the lot that was weighed"),
  grams: z.coerce.number({ error: "expected grams, for example 312" }),
});
const FIELDS = [
  { name: "lot", label: "Lot", hint: "As on its label", required: true },
  { name: "grams", label: "Grams", more: { inputmode: "decimal" } },
];

test("what was typed is read by the schema, and what it does not name is left out", () => {
  expect(readForm(WEIGHING, { lot: "north", grams: "312", other: "x" })).toEqual({
    values: { lot: "north", grams: 312 },
  });
});

test("a form that is wrong is shown again with all that was typed, and with each fault", () => {
  const typed = { lot: "", grams: 'three"<b>' };
  const read = readForm(WEIGHING, typed);
  if (!("faults" in read)) throw new Error("it was taken");
  const text = setForm({ fields: FIELDS, deed: "Write it down", typed, ...read }).toString();
  expect(text).toContain('value="three&quot;&lt;b&gt;"');
  expect(text).toContain('<a href="#field-lot">Lot: expected the lot that was weighed</a>');
  expect(text).toContain('aria-describedby="hint-lot fault-lot" aria-invalid="true"');
  expect(text).toMatch(/role="alert"[\s\S]*expected grams/);
});

test("a password that was typed is never sent back", () => {
  const fields = [{ name: "secret", label: "Secret", kind: "password" }] as const;
  const text = setForm({ fields, deed: "Go", typed: { secret: "hawthorn" } }).toString();
  expect(text).not.toContain("hawthorn");
});

test("a choice keeps what was chosen, and several lines keep theirs", () => {
  const fields = [
    {
      name: "deed",
      label: "Deed",
      kind: "choice",
      choices: [
        ["damped", "Damped"],
        ["aired", "Aired"],
      ],
    },
    { name: "note", label: "Note", kind: "lines" },
  ] as const;
  const typed = { deed: "aired", note: "\nfirst </textarea>" };
  const text = setForm({ fields, deed: "Go", typed }).toString();
  expect(text).toContain('<option value="aired" selected>Aired</option>');
  expect(text).not.toContain('value="damped" selected');
  // HTML, section 13.1.2.5: one newline right after the tag is not part of the text.
  expect(text).toContain("<textarea");
  expect(text).toContain(">\n\nfirst &lt;/textarea&gt;</textarea>");
});
