import fc from "fast-check";
import { expect, test } from "vitest";
import { describeValue, printable, printablePayload } from "../../sensors/printable.js";

const HARMLESS = /^[\p{L}\p{N}\p{P}\p{S} ]*$/u;

test("ordinary text in any script passes unchanged", () => {
  for (const text of ["shed/air 2.5 °C", "Kühlschrank", "冷蔵庫 −3 ℃", '{"t": [1, 2]}']) {
    expect(printable(text, 80)).toBe(text);
  }
});

test("what steers a terminal or turns text round does not pass", () => {
  expect(printable("a\u001b[31mb\u0007\u202ec\u0085\u009b2J", 80)).toBe("a�[31mb��c��2J");
  expect(printable("one\r\n\ttwo\u2028three", 80)).toBe("one   two three");
  expect(printable("e\u0301\u0301\u0301", 80)).toBe("e���");
});

test("long text is cut, and half a character is not shown", () => {
  expect(printable("abcdef", 6)).toBe("abcdef");
  expect(printable("abcdefg", 6)).toBe("abcde…");
  expect(printable("abcd🐝efg", 6)).toBe("abcd�…");
});

test("any payload at all is shown within bounds, and of a good one its beginning", () => {
  fc.assert(
    fc.property(
      fc.uint8Array({ maxLength: 500 }),
      fc.integer({ min: 2, max: 200 }),
      (bytes, most) => {
        const shown = printablePayload(bytes, most);
        expect(shown).toMatch(HARMLESS);
        expect(shown.length).toBeLessThanOrEqual(most);
      },
    ),
    { seed: 200 },
  );
  const hives = new TextEncoder().encode("巣".repeat(12));
  expect(printablePayload(hives, 11)).toBe(`${"巣".repeat(10)}…`);
  expect(printablePayload(hives, 12)).toBe("巣".repeat(12));
});

test("a value found is described in a few words", () => {
  const described = ["cold", 3, null, true, [1], { a: 1 }, undefined].map(describeValue);
  expect(described).toEqual(['"cold"', "3", "null", "true", "a list", "an object", "undefined"]);
});
