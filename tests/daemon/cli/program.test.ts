import { expect, test } from "vitest";
import { runDrowse } from "../../command.js";
import { PLAIN, testFolder, writeFiles } from "../config/written-config.js";

const COMMANDS = ["keep", "rehearse", "now", "hear", "ring", "digest", "replay", "readings"];

test("--help lists every command and exits 0", async () => {
  const { code, stdout } = await runDrowse(["--help"], testFolder());
  expect(code).toBe(0);
  for (const command of COMMANDS) expect(stdout).toMatch(new RegExp(`^  ${command}\\b`, "m"));
});

test.each(COMMANDS)("%s --help has an example and names --config", async (command) => {
  const { code, stdout } = await runDrowse([command, "--help"], testFolder());
  expect(code).toBe(0);
  expect(stdout).toContain("--config <file>");
  expect(stdout).toMatch(new RegExp(`Example:\n +drowse ${command}`));
});

test("no command at all shows the help and exits 2", async () => {
  const { code, stderr } = await runDrowse([], testFolder());
  expect(code).toBe(2);
  expect(stderr).toContain("Usage: drowse");
});

test.each([
  [["kep"], "nearest is keep"],
  [["raedings"], "nearest is readings"],
  [["ringing"], "nearest is ring"],
  [["now", "--jsno"], "nearest is --json"],
  [["replay", "--cofnig", "x"], "nearest is --config"],
  [["replay"], "missing required argument 'file'"],
  [["rehearse", "--speed", "fast"], "expected a number from 1 to 3600"],
  [["rehearse", "--config", "drowse.toml"], "nearest is keep --config"],
  [["now", "extra"], "too many arguments"],
])("wrong use exits 2 and says so: %j", async (args, hint) => {
  const { code, stdout, stderr } = await runDrowse(args, testFolder());
  expect(code).toBe(2);
  expect(stderr).toMatch(/^drowse: WRONG_USE: /);
  expect(stderr).toContain(hint);
  expect(stdout).toBe("");
});

test.each([["keep"], ["now"], ["hear"], ["ring"], ["digest"], ["replay", "x.csv"], ["readings"]])(
  "%s with a wrong config exits 2, names every fault and shows no stack",
  async (...args) => {
    const text = PLAIN.replace("Europe/London", "Mars").replace('place = "air"', 'place = "sky"');
    const folder = writeFiles({ "wrong.toml": text });
    const { code, stderr } = await runDrowse([...args, "--config", "wrong.toml"], folder);
    expect(code).toBe(2);
    expect(stderr).toMatch(/^drowse: CONFIG_INVALID: wrong\.toml has 2 faults/);
    expect(stderr).not.toMatch(/^ +at /m);
  },
);

test("without a config it says how to begin and exits 2", async () => {
  const { code, stderr } = await runDrowse(["now"], testFolder());
  expect(code).toBe(2);
  expect(stderr).toMatch(/^drowse: CONFIG_MISSING: no config file drowse\.toml; to begin/);
});

test("a store that was never kept fails with exit 1", async () => {
  const folder = writeFiles({ "drowse.toml": PLAIN });
  const { code, stderr } = await runDrowse(["now"], folder);
  expect(code).toBe(1);
  expect(stderr).toMatch(/^drowse: STORE_MISSING: /);
});
