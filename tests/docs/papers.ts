import { readFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";

export const ROOT = fileURLToPath(new URL("../..", import.meta.url));

/** The text of a file of the house, by its path from the top. */
export const read = (path: string): string => readFileSync(join(ROOT, path), "utf8");

export const README = read("README.md");
export const DEVELOPERS = read("DEVELOPERS.md");

/** Every page of ours, its name first. */
export const EVERY_PAPER: readonly (readonly [name: string, text: string])[] = [
  ["README.md", README],
  ["DEVELOPERS.md", DEVELOPERS],
  ["deploy/notes.md", read("deploy/notes.md")],
];

/** What stands in a page under a heading, up to the next one of its rank or above. */
export function under(text: string, heading: string): string {
  const [, after] = text.split(`\n${heading}\n`);
  if (after === undefined) throw new Error(`no heading "${heading}"`);
  const rank = /^#+/.exec(heading)![0].length;
  return after.split(new RegExp(`^#{1,${rank}} `, "m"))[0]!;
}

/** The cells of the one table in a text, without its head. */
export function rowsOf(text: string): string[][] {
  const lines = text.split("\n").filter((line) => line.startsWith("|"));
  return lines.slice(2).map((line) => {
    const cells = line.slice(1, -1).split("|");
    return cells.map((cell) => cell.trim());
  });
}

/** Code at the start of a cell. */
export const codeSpan = (cell: string): string | undefined => /^`([^`]*)`/.exec(cell)?.[1];

/** All that the pattern's first group matches. */
export const matches = (text: string, pattern: RegExp): string[] =>
  [...text.matchAll(pattern)].map((match) => match[1]!);

/** All code in a page: blocks, then spans. */
export function codeIn(text: string): string[] {
  const blocks = matches(text, /```[a-z]*\n([\s\S]*?)```/g);
  return [...blocks, ...matches(text.replace(/```[\s\S]*?```/g, ""), /`([^`\n]+)`/g)];
}

export const sorted = (values: Iterable<string>): string[] => [...values].sort();
