import { existsSync, mkdirSync, readdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { expect, test } from "vitest";
import { commitReadings, openedStore, spoil, temporaryFolder, utc } from "./temporary-store.js";

const minute = (i: number) => ({
  probeId: "shed-air",
  takenAtMs: utc("2026-12-01T08:00:00Z") + i * 60_000,
  temperatureC: 2.5,
  humidityPct: 65,
});

test("a copy taken in the midst of commits is a whole store of its own", async () => {
  const store = openedStore(temporaryFolder());
  commitReadings(
    store,
    Array.from({ length: 80_000 }, (_, i) => minute(i)),
  );
  const folder = temporaryFolder();
  let done = false;
  const copying = store.copyTo(join(folder, "drowse.db")).finally(() => {
    done = true;
  });
  let commits = 0;
  while (!done && commits < 10_000) {
    commitReadings(store, [minute(80_000 + commits++)]);
    await new Promise((resolve) => setImmediate(resolve));
  }
  await copying;
  expect(commits).toBeGreaterThan(1);
  expect(readdirSync(folder)).toEqual(["drowse.db"]);
  const copy = openedStore(folder);
  expect(copy.readings.count()).toBeGreaterThanOrEqual(80_000);
  const [first] = copy.rollups.days("shed-air", 0, Infinity);
  expect(first).toEqual(store.rollups.days("shed-air", 0, Infinity)[0]);
});

test("an older copy is replaced, another file is not, nor the store itself", async () => {
  const home = temporaryFolder();
  const store = openedStore(home);
  commitReadings(store, [minute(0)]);
  const folder = temporaryFolder();
  const file = join(folder, "drowse.db");
  await store.copyTo(file);
  commitReadings(store, [minute(1)]);
  await store.copyTo(file);
  const copy = openedStore(folder);
  expect(copy.readings.count()).toBe(2);
  copy.close();

  const list = join(folder, "list.txt");
  writeFileSync(list, "two pounds of pears");
  await expect(store.copyTo(list)).rejects.toThrow(/^STORE_COPY_REFUSED: .*list\.txt/);
  expect(readFileSync(list, "utf8")).toBe("two pounds of pears");
  await expect(store.copyTo(join(home, "drowse.db"))).rejects.toThrow(/^STORE_COPY_REFUSED: /);
});

test("a copy that can't be written leaves nothing behind", async () => {
  const store = openedStore(temporaryFolder());
  const folder = temporaryFolder();
  await expect(store.copyTo(join(folder, "nowhere", "copy.db"))).rejects.toThrow(
    /^STORE_UNWRITABLE: .*nowhere\/copy\.db/,
  );
  mkdirSync(join(folder, "copy.db"));
  await expect(store.copyTo(join(folder, "copy.db"))).rejects.toThrow(/^STORE_COPY_REFUSED: /);
  expect(existsSync(join(folder, "copy.db.part"))).toBe(false);
});

test("a store that is damaged gives no copy", async () => {
  const folder = temporaryFolder();
  const store = openedStore(folder);
  commitReadings(
    store,
    Array.from({ length: 5_000 }, (_, i) => minute(i)),
  );
  store.close();
  spoil(join(folder, "drowse.db"), 0.5, 0.9);
  const target = join(temporaryFolder(), "copy.db");
  await expect(openedStore(folder).copyTo(target)).rejects.toThrow(/^STORE_DAMAGED: /);
  expect(existsSync(target)).toBe(false);
});
