import { PassThrough } from "node:stream";
import { expect, test } from "vitest";
import { type Asker, openAsker } from "../../../../daemon/cli/check/asker.js";
import { planCheck } from "../../../../daemon/cli/check/plan.js";
import { loadConfig } from "../../../../daemon/config.js";
import { PLAIN, writeFiles } from "../../config/written-config.js";

const TWO = `${PLAIN.replace('payload = "number"', 'payload = "json"\ntemperature = "/t"\nhumidity = "/h"')}
[[probe]]
id = "shed-box"
chamber = "shed"
place = "box"
topic = "quillmere/shed/box"
payload = "number"
`;

/** A keeper who types these lines, and what they are shown. */
function keeper(...lines: string[]): { asker: Asker; shown(): string } {
  const [input, output] = [new PassThrough(), new PassThrough()];
  input.end(lines.map((line) => `${line}\n`).join(""));
  let shown = "";
  output.on("data", (text) => {
    shown += text;
  });
  return { asker: openAsker({ input, output }), shown: () => shown };
}

const configOf = (text: string) => {
  const folder = writeFiles({ "drowse.toml": text });
  return loadConfig(`${folder}/drowse.toml`);
};

test("a keeper is asked for what the command line leaves open, and for nothing else", async () => {
  const { asker, shown } = keeper("1", "1", "2", "glass thermometer 7", "0.1", "-0.05");
  const planned = await planCheck(configOf(TWO), {}, asker, null);
  expect(planned).toMatchObject({
    probe: { id: "shed-air" },
    quantity: "temperature",
    tolerance: 0.5,
    reference: {
      kind: "instrument",
      name: "glass thermometer 7",
      expanded: 0.1,
      correction: -0.05,
    },
  });
  expect(shown()).toContain("shed-box, box");
  const said = await planCheck(
    configOf(TWO),
    { probe: "shed-box", reference: "ice" },
    keeper().asker,
    null,
  );
  expect(said).toMatchObject({ probe: { id: "shed-box" }, reference: { kind: "ice" } });
});

test("what cannot be read is asked again, and degrees are the keeper's", async () => {
  const fahrenheit = TWO.replace("[broker]", 'temperature_unit = "F"\n\n[broker]');
  const { asker, shown } = keeper("9", "2", "2", "glass", "a tenth", "0.18", "");
  const planned = await planCheck(configOf(fahrenheit), {}, asker, null);
  expect(planned.reference).toMatchObject({ expanded: expect.closeTo(0.1, 9), correction: 0 });
  expect(shown()).toContain("That can't be read: 9");
  expect(shown()).toContain("That can't be read: a tenth");
});

test("a keeper who leaves in the midst of it has kept nothing", async () => {
  await expect(planCheck(configOf(TWO), {}, keeper("1").asker, null)).rejects.toThrow(
    /WRONG_USE: there was no answer; nothing was kept/,
  );
});

test("a probe is not checked for what it does not measure", async () => {
  await expect(
    planCheck(configOf(TWO), { probe: "shed-box", reference: "NaCl" }, null, null),
  ).rejects.toThrow(/shed-box does not measure humidity, only temperature/);
});
