import { PassThrough } from "node:stream";
import { expect, test } from "vitest";
import { openAsker } from "../../../../daemon/cli/check/asker.js";

const PROBES = [
  ["shed-air, air", "air"],
  ["shed-box, box", "box"],
] as const;

/** What is chosen when these lines are typed, and what was said meanwhile. */
async function typed(...lines: string[]) {
  const [input, output] = [new PassThrough(), new PassThrough()];
  const asker = openAsker({ input, output });
  input.write(`${lines.join("\n")}\n`);
  const chosen = await asker.choose("Which", PROBES);
  asker.close();
  return { chosen, said: String(output.read()) };
}

test("one of a list is chosen by its number or by how it begins, the first by nothing", async () => {
  expect((await typed("2")).chosen).toBe("box");
  expect((await typed("shed-box")).chosen).toBe("box");
  expect((await typed("")).chosen).toBe("air");
});

test("what fits several or none is asked for again", async () => {
  const { chosen, said } = await typed("shed", "3", "shed-b");
  expect(chosen).toBe("box");
  expect(said.match(/can't be read/g)).toHaveLength(2);
});
