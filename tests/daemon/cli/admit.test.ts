import { statSync } from "node:fs";
import { join } from "node:path";
import { expect, test } from "vitest";
import { loadConfig } from "../../../daemon/config.js";
import { isPasswordOf } from "../../../daemon/mqtt/password-hash.js";
import { runDrowse } from "../../command.js";
import { PLAIN, writeFiles } from "../config/written-config.js";

const CONFIG = `${PLAIN.replace('embedded = "127.0.0.1:0"', 'embedded = "0.0.0.0:0"\nplain_password = true\nhashes_file = "hashes"')}
[[sensor]]
user = "shed-board"
publish = ["quillmere/shed/#"]
`;

async function admit(folder: string, ...words: string[]) {
  return runDrowse(["admit", ...words], folder);
}

test("a sensor gets a password, shown once and kept as a hash that others cannot read", async () => {
  const folder = writeFiles({ "drowse.toml": CONFIG });
  const file = join(folder, "drowse.toml");
  expect(() => loadConfig(file)).toThrow(/hashes_file.*no file/);
  const { code, stdout } = await admit(folder, "shed-board", "--json");
  expect(code).toBe(0);
  const { password } = JSON.parse(stdout);
  expect(password).toMatch(/^([a-z2-9]{5}-){3}[a-z2-9]{5}$/);
  expect(statSync(join(folder, "hashes")).mode & 0o777).toBe(0o600);
  const { broker } = loadConfig(file);
  const [sensor] = broker.kind === "embedded" ? broker.sensors : [];
  expect(sensor).toMatchObject({ user: "shed-board", publish: ["quillmere/shed/#"], read: [] });
  expect(await isPasswordOf(Buffer.from(password), sensor!.hash!)).toBe(true);
});

test("a password withdrawn is gone, and the config says whose is missing", async () => {
  const folder = writeFiles({ "drowse.toml": CONFIG });
  await admit(folder, "shed-board");
  expect((await admit(folder, "shed-board", "--withdraw")).code).toBe(0);
  expect(() => loadConfig(join(folder, "drowse.toml"))).toThrow(/no password of shed-board/);
});

test("a user that the config does not have is refused with the nearest", async () => {
  const folder = writeFiles({ "drowse.toml": CONFIG });
  const { code, stderr } = await admit(folder, "shed-baord");
  expect(code).toBe(2);
  expect(stderr).toContain("the nearest is shed-board");
});

test("a file that is no such file is not written over", async () => {
  const folder = writeFiles({ "drowse.toml": CONFIG, hashes: "my diary" });
  const { code, stderr } = await admit(folder, "shed-board");
  expect([code, stderr]).toEqual([2, expect.stringContaining("holds something else")]);
});
