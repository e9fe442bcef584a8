import { mkdirSync, readdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { connectAsync } from "mqtt";
import { expect, test } from "vitest";
import { makeCopy } from "../../../daemon/copies/make-copy.js";
import { startDrowse } from "../../command.js";
import { PLAIN, writeFiles } from "../config/written-config.js";
import { commitReadings, openedStore, spoil, utc } from "../store/temporary-store.js";

const LISTENING = /"port":(\d+),"msg":"listening for sensors"/;
const COPIED_MS = utc("2026-12-02T03:30:00Z");
const minute = (i: number) => ({
  probeId: "shed-air",
  takenAtMs: utc("2026-12-01T08:00:00Z") + i * 60_000,
  temperatureC: 2.5,
  humidityPct: 65,
});
const minutes = (from: number, to: number) =>
  Array.from({ length: to - from }, (_, i) => minute(from + i));

/** A store of 6,000 readings in the config's folder; the copy of it has 5,000 where wanted. */
async function keptFolder(withCopy: boolean): Promise<string> {
  const home = writeFiles({ "drowse.toml": PLAIN });
  const folder = join(home, "state");
  const store = openedStore(folder);
  commitReadings(store, minutes(0, 5_000));
  const file = join(folder, "drowse.db");
  const ports = { store, file, folder: join(folder, "copies"), timezone: "Europe/London" };
  if (withCopy) await makeCopy(ports, COPIED_MS);
  commitReadings(store, minutes(5_000, 6_000));
  store.close();
  return home;
}

/** Run `keep` until it listens and its letter is written, publish one reading, and stop it. */
async function keepOnceIn(home: string): Promise<{ log: string; letters: string[] }> {
  const keep = startDrowse(["keep"], home);
  const [, port] = await keep.untilPrints(LISTENING);
  const client = await connectAsync(`mqtt://127.0.0.1:${port}`);
  await client.publishAsync("quillmere/shed/air", "2.5", { qos: 1 });
  await client.endAsync();
  keep.child.kill("SIGTERM");
  expect((await keep.ended).code).toBe(0);
  const letters = join(home, "state", "letters");
  return {
    log: keep.printed(),
    letters: readdirSync(letters).map((name) => readFileSync(join(letters, name), "utf8")),
  };
}

const stateOf = (home: string) => readdirSync(join(home, "state"));

test.for([
  { what: "its middle", from: 0.3, to: 1 },
  { what: "its head", from: 0, to: 0.1 },
])(
  "a store damaged in $what is replaced by the copy, kept, and the keeper told",
  async ({ from, to }) => {
    const home = await keptFolder(true);
    spoil(join(home, "state", "drowse.db"), from, to);
    const { log, letters } = await keepOnceIn(home);
    expect(log).toContain("the store is damaged; putting a copy in its place");
    expect(
      stateOf(home).filter((name) => /^drowse\.db\.damaged-\d{8}T\d{6}(\.\d+)?Z$/.test(name)),
    ).toHaveLength(1);
    expect(letters).toHaveLength(1);
    expect(letters[0]).toContain("the store was damaged");
    const store = openedStore(join(home, "state"), "Europe/London", "look");
    // The copy's readings, and the one published since.
    expect([...store.readings.between("shed-air", 0, Infinity)]).toHaveLength(5_001);
  },
);

test("a damaged store without a copy is kept aside, and the watch begins a new one", async () => {
  const home = await keptFolder(false);
  spoil(join(home, "state", "drowse.db"), 0.3, 1);
  const { letters } = await keepOnceIn(home);
  expect(stateOf(home).filter((name) => name.includes("damaged"))).toHaveLength(1);
  expect(letters[0]).toContain("There was no sound copy");
  const store = openedStore(join(home, "state"), "Europe/London", "look");
  expect([...store.readings.between("shed-air", 0, Infinity)]).toHaveLength(1);
});

test("a file that never was a store is refused, not replaced", async () => {
  const home = writeFiles({ "drowse.toml": PLAIN });
  mkdirSync(join(home, "state"));
  writeFileSync(join(home, "state", "drowse.db"), "a shopping list\n".repeat(99));
  const ended = await startDrowse(["keep"], home).ended;
  expect(ended.code).not.toBe(0);
  expect(ended.stderr).toContain("STORE_FOREIGN");
  expect(readFileSync(join(home, "state", "drowse.db"), "utf8")).toContain("a shopping list");
});
