import { expect, test } from "vitest";
import { wordsFor } from "../../../daemon/web/words.js";
import { QUILLMERE } from "../letters/quillmere.js";

const FEBRUARY_MS = Date.UTC(2027, 1, 18, 12);
const { moment, day } = wordsFor({
  config: { site: QUILLMERE, temperatureUnit: "C" },
  nowMs: FEBRUARY_MS,
  hourCycle: "h23",
} as unknown as Parameters<typeof wordsFor>[0]);
const textOf = (markup: unknown) => String(markup).replace(/<[^>]+>/g, "");

test("a moment or day of another year names it, one of this year does not", () => {
  expect(textOf(moment(Date.UTC(2027, 0, 29, 3, 46)))).toBe("03:46 on Friday 29 January");
  expect(textOf(moment(Date.UTC(2026, 11, 16, 1, 44)))).toBe("01:44 on Wednesday 16 December 2026");
  expect(textOf(day(Date.UTC(2027, 0, 1)))).toBe("Friday 1 January");
  expect(textOf(day(Date.UTC(2026, 11, 31, 23)))).toBe("Thursday 31 December 2026");
});
