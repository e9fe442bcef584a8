/** Rows as aligned columns of text, two spaces apart, without trailing space. */
export function layTable(head: readonly string[], rows: readonly (readonly string[])[]): string {
  const all = [head, ...rows];
  const widths = head.map((_, column) =>
    Math.max(...all.map((row) => [...(row[column] ?? "")].length)),
  );
  const lay = (row: readonly string[]) =>
    widths
      .map((width, column) => {
        const cell = row[column] ?? "";
        return cell + " ".repeat(width - [...cell].length);
      })
      .join("  ")
      .trimEnd();
  return all.map(lay).join("\n");
}
