import { existsSync } from "node:fs";
import { join } from "node:path";
import { expect, test } from "vitest";
import { DEVELOPERS, ROOT, rowsOf, under } from "./papers.js";

/** The tests that the last column of a table names. */
function testsIn(heading: string): string[][] {
  return rowsOf(under(DEVELOPERS, heading)).map((cells) =>
    [...cells.at(-1)!.matchAll(/`([^`]+)`/g)].map(([, file]) => file!),
  );
}

test.each(["### Faults", "### Threats"])(
  "each row under %s has a test that there is",
  (heading) => {
    const rows = testsIn(heading);
    expect(rows.length).toBeGreaterThan(9);
    for (const files of rows) {
      expect(files.length).toBeGreaterThan(0);
      for (const file of files) expect(existsSync(join(ROOT, file)), file).toBe(true);
    }
  },
);
