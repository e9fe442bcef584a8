import { readdirSync, readFileSync } from "node:fs";
import { expect, test } from "vitest";

const HERE = new URL("./", import.meta.url);
/** What a winter and its labels are, which themselves import only `shared/`. */
const MAY_IMPORT = /^(\.\/|\.\.\/(label|labelled|shed-site)\.js$|\.\.\/\.\.\/\.\.\/\.\.\/shared\/)/;

function importsOf(file: URL): string[] {
  const pattern = /(?:\bfrom|\bimport)\s*\(?\s*"([^"]+)"/g;
  return [...readFileSync(file, "utf8").matchAll(pattern)].map((match) => match[1]!);
}

test("no file of this physics knows the rules or the simulated sensors", () => {
  const files = readdirSync(HERE).filter((name) => !name.endsWith(".test.ts"));
  expect(files.length).toBeGreaterThan(10);
  const imports = files.flatMap((name) => importsOf(new URL(name, HERE)));
  expect(imports.filter((path) => !MAY_IMPORT.test(path))).toEqual([]);
  const between = ["label", "labelled", "shed-site"].flatMap((name) =>
    importsOf(new URL(`../${name}.ts`, HERE)),
  );
  expect(between.filter((path) => !/^(\.\/label|\.\.\/\.\.\/\.\.\/shared)/.test(path))).toEqual([]);
});
