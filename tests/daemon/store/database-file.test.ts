import { spawnSync } from "node:child_process";
import { existsSync, mkdirSync, readdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import Database from "better-sqlite3";
import { expect, onTestFinished, test } from "vitest";
import { MIGRATIONS } from "../../../daemon/store/migrations.js";
import { openStore } from "../../../daemon/store/store.js";
import { commitReadings, openedStore, spoil, temporaryFolder, utc } from "./temporary-store.js";

const SITE = { timezone: "Europe/London" };
const READING = {
  probeId: "shed-air",
  takenAtMs: utc("2026-12-01T08:00:00Z"),
  temperatureC: 2.5,
  humidityPct: 65,
};
const look = { mode: "look" } as const;

/** Change a closed store by SQL, as another program might. */
function meddle(folder: string, sql: string): void {
  const db = new Database(join(folder, "drowse.db"));
  db.exec(sql);
  db.close();
}

test("a store that was closed opens with all it held", () => {
  const folder = join(temporaryFolder(), "made", "on the way");
  const store = openedStore(folder);
  commitReadings(store, [READING]);
  store.close();
  expect(readdirSync(folder).filter((name) => name.endsWith("-wal"))).toEqual([]);
  expect(openedStore(folder).readings.latest("shed-air")).toEqual(READING);
});

test("a store logs ahead of its pages, counts its migrations and is marked as ours", () => {
  const folder = temporaryFolder();
  openedStore(folder).close();
  const db = new Database(join(folder, "drowse.db"), { readonly: true });
  onTestFinished(() => void db.close());
  expect(db.pragma("journal_mode", { simple: true })).toBe("wal");
  expect(db.pragma("user_version", { simple: true })).toBe(MIGRATIONS.length);
  const id = Buffer.alloc(4);
  id.writeInt32BE(Number(db.pragma("application_id", { simple: true })));
  expect(id.toString()).toBe("Drws");
});

test("a store of a newer Drowse is refused, both versions named, and left as it is", () => {
  const folder = temporaryFolder();
  openedStore(folder).close();
  meddle(folder, "PRAGMA user_version = 4711");
  const before = readFileSync(join(folder, "drowse.db"));
  for (const options of [{}, look])
    expect(() => openStore(folder, SITE, options)).toThrow(
      new RegExp(`^STORE_TOO_NEW: .*version 4711 .* ${MIGRATIONS.length};`),
    );
  expect(readFileSync(join(folder, "drowse.db")).equals(before)).toBe(true);
});

test("a look at a store of an older Drowse says to run keep", () => {
  const folder = temporaryFolder();
  openedStore(folder).close();
  meddle(folder, "PRAGMA user_version = 0");
  expect(() => openStore(folder, SITE, look)).toThrow(/^STORE_OUTDATED: .*drowse keep/);
});

test("another program's database is refused and left alone", () => {
  const folder = temporaryFolder();
  meddle(folder, "CREATE TABLE bookmark (url TEXT)");
  for (const options of [{}, look])
    expect(() => openStore(folder, SITE, options)).toThrow(/^STORE_FOREIGN: .*drowse\.db/);
  const db = new Database(join(folder, "drowse.db"), { readonly: true });
  onTestFinished(() => void db.close());
  expect(db.prepare("SELECT name FROM sqlite_schema").pluck().all()).toEqual(["bookmark"]);
});

test("a file that is no database is refused and left alone", () => {
  const folder = temporaryFolder();
  const file = join(folder, "drowse.db");
  const text = "a shopping list\n".repeat(100);
  writeFileSync(file, text);
  expect(() => openStore(folder, SITE)).toThrow(/^STORE_FOREIGN: /);
  expect(readFileSync(file, "utf8")).toBe(text);
});

test("an empty file, as a power cut at the first start leaves it, becomes a store", () => {
  const folder = temporaryFolder();
  writeFileSync(join(folder, "drowse.db"), "");
  expect(() => openStore(folder, SITE, look)).toThrow(/^STORE_MISSING: /);
  commitReadings(openedStore(folder), [READING]);
});

test("a look where nothing is kept says so and makes nothing", () => {
  const folder = join(temporaryFolder(), "state");
  expect(() => openStore(folder, SITE, look)).toThrow(/^STORE_MISSING: .*run drowse keep first/);
  expect(existsSync(folder)).toBe(false);
});

test("a folder that can't be is named, with the cure", () => {
  const file = join(temporaryFolder(), "occupied");
  writeFileSync(file, "");
  expect(() => openStore(join(file, "state"), SITE)).toThrow(
    /^STORE_UNWRITABLE: .*occupied\/state can't be written .*let Drowse's user/,
  );
  const folder = temporaryFolder();
  mkdirSync(join(folder, "drowse.db"));
  expect(() => openStore(folder, SITE)).toThrow(/^STORE_UNWRITABLE: /);
});

test("one folder has one keeper, who is named to the second", () => {
  const folder = temporaryFolder();
  const first = openedStore(folder);
  expect(() => openStore(folder, SITE)).toThrow(
    new RegExp(`^STORE_BUSY: .*process ${process.pid} `),
  );
  // The failed attempt must not have loosened the first one's hold.
  expect(() => openStore(folder, SITE)).toThrow(/^STORE_BUSY: /);
  first.close();
  commitReadings(openedStore(folder), [READING]);
});

test("another process is refused too", () => {
  const folder = temporaryFolder();
  openedStore(folder);
  const attempt = `
    const Database = require("better-sqlite3");
    const lock = new Database(${JSON.stringify(join(folder, "keep.lock"))}, { timeout: 0 });
    try { lock.exec("BEGIN EXCLUSIVE"); } catch (error) { console.log(error.code); }`;
  const child = spawnSync(process.execPath, ["-e", attempt], { encoding: "utf8" });
  expect(child.stdout.trim()).toBe("SQLITE_BUSY");
});

test("a look reads and acknowledges while another keeps, and may not commit", () => {
  const folder = temporaryFolder();
  const keep = openedStore(folder);
  const other = openedStore(folder, "Europe/London", "look");
  commitReadings(keep, [READING]);
  expect(other.readings.latest("shed-air")).toEqual(READING);
  other.board.note("seen", "yes");
  expect(keep.board.read("seen")).toBe("yes");
  expect(() => commitReadings(other, [READING])).toThrow(TypeError);
  expect(() => other.prune(0)).toThrow(TypeError);
});

test("a damaged store says so at the first page that is read, with the cure", () => {
  const folder = temporaryFolder();
  const store = openedStore(folder);
  const minute = (i: number) => ({ ...READING, takenAtMs: READING.takenAtMs + i * 60_000 });
  commitReadings(
    store,
    Array.from({ length: 5_000 }, (_, i) => minute(i)),
  );
  store.close();
  // All but the last tenth and the schema, which sits at the beginning.
  spoil(join(folder, "drowse.db"), 0.5, 0.9);
  const damaged = openedStore(folder);
  expect(() => [...damaged.readings.allBetween(0, Infinity)]).toThrow(
    /^STORE_DAMAGED: .*drowse\.db is damaged; .*newest copy/,
  );
});

test("a store locked by another program says so", { timeout: 20_000 }, () => {
  const folder = temporaryFolder();
  const store = openedStore(folder);
  const other = new Database(join(folder, "drowse.db"));
  onTestFinished(() => void other.close());
  other.exec("BEGIN IMMEDIATE");
  expect(() => commitReadings(store, [READING])).toThrow(/^STORE_LOCKED: .*drowse\.db/);
  other.exec("COMMIT");
  commitReadings(store, [READING]);
  expect(store.readings.count()).toBe(1);
});
