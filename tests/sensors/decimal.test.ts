import fc from "fast-check";
import { expect, test } from "vitest";
import { parseDecimal } from "../../sensors/decimal.js";

test.each([
  ["3.25", 3.25],
  ["-0.5", -0.5],
  ["+4", 4],
  [" 2.1\r\n", 2.1],
  ["3.", 3],
  [".5", 0.5],
  ["29e-1", 2.9],
  ["1.5E2", 150],
  ["007", 7],
])("%j is a number", (text, value) => {
  expect(parseDecimal(text)).toBe(value);
});

test.each([
  "",
  "  ",
  ".",
  "-",
  "e5",
  "1e",
  "nan",
  "NaN",
  "inf",
  "Infinity",
  "0x10",
  "0b1",
  "1_000",
  "1,5",
  "1 2",
  "--1",
  "3.2C",
  "３.2",
  "1e999",
  "true",
  "9".repeat(65),
])("%j is none", (text) => {
  expect(parseDecimal(text)).toBeNull();
});

test("whatever a number is written as in JavaScript is read back", () => {
  fc.assert(
    fc.property(fc.double({ noNaN: true, noDefaultInfinity: true }), (value) => {
      expect(parseDecimal(String(value))).toBe(value === 0 ? Number(String(value)) : value);
    }),
    { seed: 10 },
  );
});
