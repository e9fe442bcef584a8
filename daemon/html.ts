/** A piece of finished HTML. Only `html` makes one, so nothing unescaped can pass for it. */
export class Markup {
  readonly #text: string;

  private constructor(text: string) {
    this.#text = text;
  }

  /** Join literal template parts with values that are already safe. For `html` alone. */
  static assemble(literals: readonly string[], values: readonly string[]): Markup {
    let text = literals[0] ?? "";
    for (let i = 1; i < literals.length; i++) text += (values[i - 1] ?? "") + literals[i];
    return new Markup(text);
  }

  toString(): string {
    return this.#text;
  }
}

/** What may stand in a template: text and numbers are escaped, null and false leave nothing. */
export type Filling = string | number | Markup | null | undefined | false | readonly Filling[];

const ENTITIES: Readonly<Record<string, string>> = {
  "&": "&amp;",
  "<": "&lt;",
  ">": "&gt;",
  '"': "&quot;",
  "'": "&#39;",
};

function fill(value: Filling): string {
  if (value === null || value === undefined || value === false) return "";
  if (value instanceof Markup) return value.toString();
  if (typeof value === "object") return value.map(fill).join("");
  const text = String(value);
  return /[&<>"']/.test(text) ? text.replace(/[&<>"']/g, (one) => ENTITIES[one]!) : text;
}

/**
 * Write HTML with every value escaped: html`<p title="${name}">${name}</p>`.
 *
 * Safe in element text and in quoted attribute values. It does not make a value safe inside
 * `<script>`, `<style>`, an unquoted attribute or as a link's scheme: put no value there that
 * came from outside. The five characters are those of the HTML standard's fragment
 * serialisation, with the single quote added. Never throws.
 */
export function html(literals: TemplateStringsArray, ...values: Filling[]): Markup {
  return Markup.assemble(literals, values.map(fill));
}
