import {
  copyFileSync,
  existsSync,
  mkdirSync,
  readdirSync,
  rmSync,
  statSync,
  writeFileSync,
} from "node:fs";
import { join } from "node:path";
import { expect, test } from "vitest";
import { COPY_KEY, COPY_TROUBLE_KEY, makeCopy } from "../../../daemon/copies/make-copy.js";
import { startNightlyCopy } from "../../../daemon/keep/nightly-copy.js";
import { commitReadings, openedStore, temporaryFolder, utc } from "../store/temporary-store.js";

const NIGHT_MS = utc("2026-12-02T03:30:00Z");
const READING = {
  probeId: "shed-air",
  takenAtMs: utc("2026-12-01T08:00:00Z"),
  temperatureC: 2.5,
  humidityPct: 65,
};

function portsIn(folder: string) {
  const store = openedStore(folder);
  const copies = join(folder, "copies");
  return { store, file: join(folder, "drowse.db"), folder: copies, timezone: "Europe/London" };
}

test("a copy put in the store's place gives back all it held", async () => {
  const folder = temporaryFolder();
  const ports = portsIn(folder);
  commitReadings(ports.store, [READING]);
  const copy = await makeCopy(ports, NIGHT_MS);
  expect(ports.store.board.read(COPY_KEY)).toBe(`2026-12-02T03:30:00Z ${copy}`);
  commitReadings(ports.store, [{ ...READING, takenAtMs: READING.takenAtMs + 60_000 }]);
  ports.store.close();
  // The three lines of README.md, after the service has stopped.
  for (const end of ["-wal", "-shm"]) rmSync(`${ports.file}${end}`, { force: true });
  copyFileSync(copy, ports.file);
  const restored = openedStore(folder);
  expect([...restored.readings.allBetween(0, Infinity)]).toEqual([READING]);
});

test("copies that have outlived their use go once the new one is there, and nothing else", async () => {
  const ports = portsIn(temporaryFolder());
  mkdirSync(ports.folder);
  const november = Array.from({ length: 10 }, (_, i) => `drowse-2026-11-${11 + i}.db`);
  for (const name of [...november, "notes.txt"]) writeFileSync(join(ports.folder, name), "");
  await makeCopy(ports, NIGHT_MS);
  const left = [...november.slice(4), "drowse-2026-12-02.db", "notes.txt"];
  expect(readdirSync(ports.folder).sort()).toEqual(left);
});

test("a copy that can't be made is noted, and the note goes with the next that can", async () => {
  const ports = portsIn(temporaryFolder());
  writeFileSync(ports.folder, "a file where the folder should be");
  await expect(makeCopy(ports, NIGHT_MS)).rejects.toThrow(/^STORE_UNWRITABLE: .*copies_folder/);
  expect(ports.store.board.read(COPY_TROUBLE_KEY)).toMatch(/^STORE_UNWRITABLE/);
  rmSync(ports.folder);
  await makeCopy(ports, NIGHT_MS);
  expect(ports.store.board.read(COPY_TROUBLE_KEY)).toBe("");
});

const SILENT = { info: () => {}, warn: () => {}, error: () => {} };
const clockAt = (nowMs: number) => ({ nowMs: () => nowMs, monotonicMs: () => nowMs });
const nightly = (ports: ReturnType<typeof portsIn>, nowMs: number) =>
  startNightlyCopy({ ...ports, time: "03:30", clock: clockAt(nowMs), log: SILENT });

test("a board that slept through two nights makes its copy when it wakes", async () => {
  const ports = portsIn(temporaryFolder());
  await makeCopy(ports, NIGHT_MS);
  await nightly(ports, NIGHT_MS + 1.5 * 86_400_000).close();
  expect(readdirSync(ports.folder)).toEqual(["drowse-2026-12-02.db"]);
  await nightly(ports, NIGHT_MS + 2 * 86_400_000).close();
  expect(readdirSync(ports.folder)).toContain("drowse-2026-12-04.db");
});

test("a board whose clock is not set makes no copy of a day in 1970", async () => {
  const ports = portsIn(temporaryFolder());
  await makeCopy(ports, NIGHT_MS);
  await nightly(ports, 60_000).close();
  expect(readdirSync(ports.folder)).toEqual(["drowse-2026-12-02.db"]);
  expect(existsSync(join(ports.folder, "drowse-1970-01-01.db"))).toBe(false);
});

test("once such a clock is set, or set ahead past the hour, the night's copy is made, and made once", async () => {
  const ports = portsIn(temporaryFolder());
  let nowMs = 60_000;
  const clock = { nowMs: () => nowMs, monotonicMs: () => 0 };
  const nights = startNightlyCopy({ ...ports, time: "03:30", clock, log: SILENT });
  const copies = async () => {
    nights.look();
    await nights.close();
    return existsSync(ports.folder) ? readdirSync(ports.folder).sort() : [];
  };
  expect(await copies()).toEqual([]);
  nowMs = NIGHT_MS - 3_600_000;
  expect(await copies()).toEqual(["drowse-2026-12-02.db"]);
  nowMs += 6 * 3_600_000;
  const made = statSync(join(ports.folder, "drowse-2026-12-02.db")).ino;
  expect(await copies()).toEqual(["drowse-2026-12-02.db"]);
  nowMs += 86_400_000;
  expect(await copies()).toEqual(["drowse-2026-12-02.db", "drowse-2026-12-03.db"]);
  nowMs -= 12 * 3_600_000;
  expect(await copies()).toEqual(["drowse-2026-12-02.db", "drowse-2026-12-03.db"]);
  expect(statSync(join(ports.folder, "drowse-2026-12-02.db")).ino).toBe(made);
});
