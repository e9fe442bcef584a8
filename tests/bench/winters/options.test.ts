import { expect, test } from "vitest";
import { readOptions, refuseApart } from "./options.js";

const refuse = (line: string) => refuseApart(readOptions(line.split(" ")));

test("fridges written apart go with what says how probes speak, and which seeds", () => {
  expect(refuse("--apart 2 --from-seed 5 --interval 300 --no-humidity --misses")).toBeNull();
  expect(refuse("--hard --drawn 3 --box --write x --seeds 2")).toBeNull();
});

test.each(["--hard", "--young", "--drawn 2", "--box", "--fridge a", "--write x", "--seeds 2"])(
  "fridges written apart do not go with %s, and it says so",
  (other) => {
    const name = other.split(" ")[0];
    expect(refuse(`--apart 1 ${other}`)).toMatch(new RegExp(`^${name} does not go with --apart: `));
  },
);

test.each(["0", "-1", "1.5", "two", ""])("%j is no count of fridges", (count) => {
  const message = `--apart is ${count}, but takes a whole number from 1 on`;
  expect(() => readOptions([`--apart=${count}`])).toThrow(message);
});

test("no winters are drawn at random unless asked for, and none is an answer", () => {
  expect(readOptions([]).drawn).toBe(0);
  expect(readOptions(["--drawn", "0"]).drawn).toBe(0);
  expect(() => readOptions(["--drawn", "few"])).toThrow(
    "--drawn is few, but takes a whole number from 0 on",
  );
});
