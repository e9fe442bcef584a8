import { expect, test } from "vitest";
import { readNumbers } from "./numbers.js";

const DEFAULTS = { kills: 1_000, "from-seed": 1883 };
const read = (line: string) => readNumbers(line.split(" "), DEFAULTS);

test("what is not asked for is as usual", () => {
  expect(readNumbers([], DEFAULTS)).toEqual(DEFAULTS);
  expect(read("--kills 25")).toEqual({ kills: 25, "from-seed": 1883 });
  expect(read("--from-seed=7")).toEqual({ kills: 1_000, "from-seed": 7 });
});

test.each(["0", "-1", "1.5", "two", "1e3", "9".repeat(20)])("%s is no number of kills", (typed) => {
  const message = `--kills is ${typed}, but takes a whole number from 1 on`;
  expect(() => read(`--kills=${typed}`)).toThrow(message);
});

test.each(["--kils 3", "--kills", "three"])("%s is refused and not passed over", (line) => {
  expect(() => read(line)).toThrow(TypeError);
});
