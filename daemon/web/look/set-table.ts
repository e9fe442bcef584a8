import { type Filling, html, type Markup } from "../../html.js";

/** A column of a table: numbers stand to the right, long text gets room. */
export type Column = Readonly<{ head: string; kind?: "number" | "long" }>;

/**
 * A table under its caption; the first cell of each row is its heading. It scrolls by itself where
 * it is wider than the page, and can then be reached and moved by keyboard. One with long text is
 * set in lines on a narrow page instead, each row under its heading with its columns named.
 */
export function setTable(
  caption: string,
  columns: readonly Column[],
  rows: readonly (readonly Filling[])[],
): Markup {
  const kinds = columns.map(({ kind }) =>
    kind === "number" ? "n" : kind === "long" ? "long" : null,
  );
  const isLong = kinds.includes("long");
  const classOf = (index: number) => kinds[index] && html` class="${kinds[index]}"`;
  // Set in lines, a browser takes it for no table any more; so each part says what it is.
  const role = (name: string) => isLong && html` role="${name}"`;
  const named = (i: number) => isLong && html` data-head="${columns[i]!.head}"`;
  const head = columns.map(
    ({ head: word }, i) => html`<th scope="col"${role("columnheader")}${classOf(i)}>${word}</th>`,
  );
  const body = rows.map(
    ([first, ...others]) =>
      html`<tr${role("row")}><th scope="row"${role("rowheader")}${named(0)}${classOf(0)}>${first}</th>${others.map((cell, i) => html`<td${role("cell")}${cell !== "" && named(i + 1)}${classOf(i + 1)}>${cell}</td>`)}</tr>
`,
  );
  return html`<div class="scroll${isLong && " lines"}" tabindex="0" role="region" aria-label="${caption}">
<table${role("table")}>
<caption>${caption}</caption>
<thead${role("rowgroup")}><tr${role("row")}>${head}</tr></thead>
<tbody${role("rowgroup")}>
${body}</tbody>
</table>
</div>
`;
}
