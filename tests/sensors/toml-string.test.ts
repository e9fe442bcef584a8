import fc from "fast-check";
import { parse } from "smol-toml";
import { expect, test } from "vitest";
import { quoteToml } from "../../sensors/toml-string.js";

const readBack = (text: string) => parse(`key = ${quoteToml(text)}`).key;

test("any text comes back from a TOML reader as it was", () => {
  fc.assert(
    fc.property(fc.string({ unit: "binary" }), (text) => {
      expect(readBack(text)).toBe(text);
    }),
    { seed: 1, numRuns: 200 },
  );
});

test("what breaks a line, turns text or steers a terminal is escaped", () => {
  const text = 'a"\\\n\r\u001b[2J\u007f\u0085\u2028\u202e\u2066\ufeffb';
  expect(quoteToml(text)).toMatch(/^[ -~]+$/);
  expect(readBack(text)).toBe(text);
});

test("a lone surrogate, which TOML cannot hold, becomes the replacement character", () => {
  expect(readBack("a\ud800b\udc00")).toBe("a\ufffdb\ufffd");
  expect(readBack("\ud83d\udc1d")).toBe("🐝");
});
