import fc from "fast-check";
import { afterAll, test } from "vitest";
import { openParsers } from "./parsers.js";

const { all, close } = openParsers();
afterAll(close);

test.each(all)("no input breaks what reads $name", async ({ input, weight, corpus, read }) => {
  const examples = corpus.map((value): [unknown] => [value]);
  const property = fc.asyncProperty(input, async (value) => read(value));
  await fc.assert(property, { numRuns: 80 * weight, seed: 1883, examples });
});
