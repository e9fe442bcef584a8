import { readdirSync, readFileSync } from "node:fs";
import { dirname, join, relative, resolve } from "node:path";
import { fileURLToPath } from "node:url";
import { describe, expect, test } from "vitest";

const ROOT = fileURLToPath(new URL("..", import.meta.url));

/** What each folder may import of ours, beside itself. */
const MAY_IMPORT: Readonly<Record<string, readonly string[]>> = {
  shared: [],
  rules: ["shared"],
  sensors: ["shared"],
  daemon: ["shared", "rules", "sensors"],
};

/** What a pure judgement has no use for. */
const IMPURE = [
  /\basync\b/,
  /\bawait\b/,
  /\bMath\.random\b/,
  /\bDate\.now\b/,
  /\bnew Date\(\)/,
  /\bperformance\./,
  /\bprocess\./,
  /\bset(Timeout|Interval|Immediate)\b/,
  /\bfetch\(/,
];

function filesOf(folder: string): string[] {
  return readdirSync(join(ROOT, folder), { recursive: true, encoding: "utf8" })
    .filter((name) => name.endsWith(".ts"))
    .map((name) => join(ROOT, folder, name));
}

function importsOf(file: string): string[] {
  const text = readFileSync(file, "utf8");
  const pattern = /(?:\bfrom|\bimport)\s*\(?\s*"([^"]+)"/g;
  return [...text.matchAll(pattern)].map((match) => match[1]!);
}

/** The folder of the house that a relative import leads to. */
function folderOf(file: string, imported: string): string {
  return relative(ROOT, resolve(dirname(file), imported)).split("/")[0]!;
}

function codeOf(file: string): string {
  const text = readFileSync(file, "utf8");
  return text.replace(/\/\*[\s\S]*?\*\//g, "").replace(/\/\/.*$/gm, "");
}

describe.each(Object.entries(MAY_IMPORT))("%s/", (folder, allowed) => {
  test(`imports of ours only ${["itself", ...allowed].join(", ")}`, () => {
    const files = filesOf(folder);
    expect(files.length).toBeGreaterThan(0);
    const wrong = files.flatMap((file) =>
      importsOf(file)
        .filter((imported) => imported.startsWith("."))
        .filter((imported) => ![folder, ...allowed].includes(folderOf(file, imported)))
        .map((imported) => `${relative(ROOT, file)} imports ${imported}`),
    );
    expect(wrong).toEqual([]);
  });
});

describe("rules/", () => {
  test("imports nothing of Node's", () => {
    const wrong = filesOf("rules").flatMap((file) =>
      importsOf(file)
        .filter((imported) => imported.startsWith("node:"))
        .map((imported) => `${relative(ROOT, file)} imports ${imported}`),
    );
    expect(wrong).toEqual([]);
  });

  test.each(IMPURE)("knows nothing of %s", (impure) => {
    const wrong = filesOf("rules").filter((file) => impure.test(codeOf(file)));
    expect(wrong.map((file) => relative(ROOT, file))).toEqual([]);
  });
});

test("only the store imports the database", () => {
  const users = ["daemon", "sensors", "rules", "shared"]
    .flatMap(filesOf)
    .filter((file) => importsOf(file).includes("better-sqlite3"))
    .map((file) => relative(ROOT, file));
  expect(users.filter((file) => !file.startsWith("daemon/store/"))).toEqual([]);
});
