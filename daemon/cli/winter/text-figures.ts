import type { Figure } from "../../letters/body.js";

/**
 * Figures for a terminal: labels and values in columns, a remark beside its value where the line
 * has room, else in lines of its own under it.
 *
 * @param width columns of the terminal to fill; a longer word is not broken
 */
export function layFigures(figures: readonly Figure[], width: number): string {
  const labels = Math.max(0, ...figures.map(({ label }) => label.length)) + 2;
  return figures
    .flatMap(({ label, value, remark }) => {
      const line = label.padEnd(labels) + value;
      if (remark === null) return [line];
      const beside = `${line} (${remark})`;
      if (beside.length <= width) return [beside];
      return [line, ...brokenInto(remark, width - labels).map((part) => " ".repeat(labels) + part)];
    })
    .join("\n");
}

/** Words in lines of at most so many characters; a longer word is not broken. */
export function brokenInto(words: string, width: number): string[] {
  const lines: string[] = [];
  for (const word of words.split(" ")) {
    const line = lines.at(-1);
    if (line !== undefined && line.length + 1 + word.length <= width)
      lines[lines.length - 1] = `${line} ${word}`;
    else lines.push(word);
  }
  return lines;
}
