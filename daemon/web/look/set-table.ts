import { type Filling, html, type Markup } from "../../html.js";

/** A column of a table: numbers stand to the right, long text gets room. */
export type Column = Readonly<{ head: string; kind?: "number" | "long" }>;

/**
 * A table under its caption; the first cell of each row is its heading. It scrolls by itself where
 * it is wider than the page, and can then be reached and moved by keyboard.
 */
export function setTable(
  caption: string,
  columns: readonly Column[],
  rows: readonly (readonly Filling[])[],
): Markup {
  const kinds = columns.map(({ kind }) =>
    kind === "number" ? "n" : kind === "long" ? "long" : null,
  );
  const classOf = (index: number) => kinds[index] && html` class="${kinds[index]}"`;
  const head = columns.map(({ head: word }, i) => html`<th scope="col"${classOf(i)}>${word}</th>`);
  const body = rows.map(
    ([first, ...others]) =>
      html`<tr><th scope="row"${classOf(0)}>${first}</th>${others.map((cell, i) => html`<td${classOf(i + 1)}>${cell}</td>`)}</tr>
`,
  );
  return html`<div class="scroll" tabindex="0" role="region" aria-label="${caption}">
<table>
<caption>${caption}</caption>
<thead><tr>${head}</tr></thead>
<tbody>
${body}</tbody>
</table>
</div>
`;
}
