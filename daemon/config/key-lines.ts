import type { KeyPath } from "./fault.js";

const TABLE = /^\s*(\[\[?)\s*([^\]]+?)\s*\]/;
const ASSIGNMENT = /^\s*((?:[\w-]+|"[^"]*"|'[^']*')(?:\s*\.\s*(?:[\w-]+|"[^"]*"|'[^']*'))*)\s*=/;

/**
 * Where the keys of a TOML text stand.
 *
 * The parser keeps no places, so this reads the lines once more; it only helps a person to
 * find a fault and decides nothing. A key that it cannot find has the line of its table, or null.
 */
export function findKeyLines(text: string): (path: KeyPath) => number | null {
  const lines = new Map<string, number>();
  const counts = new Map<string, number>();
  let table: KeyPath = [];
  text.split("\n").forEach((content, index) => {
    const header = TABLE.exec(content);
    const key = ASSIGNMENT.exec(content);
    if (header !== null) {
      table = splitKey(header[2]!);
      if (header[1] === "[[") table = [...table, countUp(counts, join(table))];
      note(lines, table, index + 1);
    } else if (key !== null) note(lines, [...table, ...splitKey(key[1]!)], index + 1);
  });
  return (path) => {
    for (let length = path.length; length > 0; length--) {
      const line = lines.get(join(path.slice(0, length)));
      if (line !== undefined) return line;
    }
    return null;
  };
}

function countUp(counts: Map<string, number>, name: string): number {
  const index = counts.get(name) ?? 0;
  counts.set(name, index + 1);
  return index;
}

function note(lines: Map<string, number>, path: KeyPath, line: number): void {
  const name = join(path);
  if (!lines.has(name)) lines.set(name, line);
}

function splitKey(key: string): string[] {
  return key.split(/\s*\.\s*/).map((part) => part.replace(/^["']|["']$/g, ""));
}

function join(path: KeyPath): string {
  return path.join("\u0000");
}
