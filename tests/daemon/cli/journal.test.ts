import { writeFileSync } from "node:fs";
import { join } from "node:path";
import { expect, test } from "vitest";
import { openStore } from "../../../daemon/store/store.js";
import { cocoonSeriesId } from "../../../shared/site.js";
import { DAY_MS, HOUR_MS } from "../../../shared/time.js";
import { runDrowse } from "../../command.js";
import { PLAIN, writeFiles } from "../config/written-config.js";

const SITE = { timezone: "Europe/London" };

/** A folder with a config and a store that saw the last 40 days at 2 °C. */
function keptFolder(): string {
  const folder = writeFiles({ "drowse.toml": PLAIN });
  const store = openStore(join(folder, "state"), SITE);
  const nowMs = Date.now();
  const readings = Array.from({ length: 40 * 24 }, (_, i) => ({
    probeId: cocoonSeriesId("shed"),
    takenAtMs: nowMs - 40 * DAY_MS + i * HOUR_MS,
    temperatureC: 2,
    humidityPct: null,
  }));
  store.commit({ readings, findings: [], letters: [], judge: null, heard: [] }, []);
  store.close();
  return folder;
}

const dayAgo = (days: number) => new Date(Date.now() - days * DAY_MS).toISOString().slice(0, 10);

/** Run a command that must do its work, and read the JSON that it prints. */
async function told(folder: string, ...args: string[]) {
  const { code, stdout, stderr } = await runDrowse([...args, "--json"], folder);
  expect({ code, stderr }).toEqual({ code: 0, stderr: "" });
  const lines = stdout.trim().split("\n").filter(Boolean);
  return lines.map((line) => JSON.parse(line));
}

test("a lot is entered, tended and shown with what it went through", async () => {
  const folder = keptFolder();
  const add = ["lot", "add", "hedge", "--large", "80", "--small", "120", "--in", dayAgo(30)];
  const [added] = await told(folder, ...add);
  expect(added.entries[0]).toMatchObject({ kind: "moved", toChamberId: "shed", lot: "hedge" });
  // A fridge with cocoons holds no food: common practice, no source.
  expect(added.cautions).toEqual([expect.stringMatching(/^Keep no food/)]);
  await told(
    folder,
    "lot",
    "weigh",
    "hedge",
    "--mass-g",
    "3.2",
    "--cocoons",
    "30",
    "--on",
    dayAgo(30),
  );
  await told(folder, "lot", "weigh", "hedge", "--mass-g", "3.1");
  await told(folder, "lot", "open", "hedge", "--cocoons", "20", "--parasitised", "2");
  await told(folder, "lot", "change", "hedge", "--box", "A1");
  const [lot] = await told(folder, "lot", "show", "hedge");
  expect(lot).toMatchObject({ id: "hedge", chamberId: "shed", box: "A1", opened: 20 });
  expect(lot.versions.map(({ box }: { box: string }) => box)).toEqual(["", "A1"]);
  expect(lot.season.seenDays).toBeGreaterThan(29);
  // At 2 °C a day costs 0.8326 of one at 4 °C: Q10 = 2.5, from memory.
  expect(lot.season.reserveDays / lot.season.seenDays).toBeCloseTo(2.5 ** -0.2, 2);
  expect(lot.samples[0].loss.pctIn30Days).toBeCloseTo(3.1, 0);
  expect(lot.parasitised.share).toBe(0.1);
  const [listed] = await told(folder, "lot");
  expect(listed.id).toBe("hedge");
  const page = await runDrowse(["lot", "show", "hedge"], folder);
  expect(page.stdout).toMatch(/To expect +40 % females \(1.5 males to a female, 1.1 to 2.0 by/);
  expect(page.stdout).toMatch(/Parasitised +10 % \(3 % to 30 % of the lot, from 20 opened\)/);
});

test("a correction leaves the first entry as it was, and says which holds", async () => {
  const folder = keptFolder();
  await told(folder, "tend", "damped", "--on", dayAgo(3));
  await told(folder, "tend", "damped", "--on", dayAgo(2), "--corrects", "1");
  const journal = await told(folder, "tend");
  expect(journal.map(({ no, corrects }) => [no, corrects])).toEqual([
    [1, null],
    [2, 1],
  ]);
  const { stdout } = await runDrowse(["tend"], folder);
  expect(stdout).toMatch(/^1 .* damped +corrected by 2$/m);
  expect(stdout).toMatch(/^2 .* damped +corrects 1$/m);
});

test("wrong use exits 2, names every fault and writes nothing", async () => {
  const folder = keptFolder();
  const wrong = async (...args: string[]) => {
    const { code, stderr } = await runDrowse(args, folder);
    expect(code, stderr).toBe(2);
    return stderr;
  };
  expect(await wrong("tend", "damped", "barn", "--on", "2999-01-01")).toBe(
    'drowse: WRONG_USE: on "2999-01-01": expected a time that is not yet to come; ' +
      'chamber "barn": expected one of shed\n',
  );
  expect(await wrong("tend", "dampd")).toMatch(/nearest is damped/);
  expect(await wrong("lot", "wiegh", "hedge")).toMatch(/nearest is weigh; see drowse lot --help/);
  expect(await wrong("lot", "weigh", "hedge", "--mass", "3")).toMatch(/nearest is --mass-g/);
  expect(await wrong("lot", "weigh", "hedge", "--mass-g", "3")).toMatch(/id of a lot/);
  expect(await wrong("lot", "show", "hedge")).toMatch(/there is none yet/);
  expect(await wrong("lot", "add")).toMatch(/lot "": expected 1 to 40 letters/);
  expect(await told(folder, "tend")).toEqual([]);
  expect(await told(folder, "lot", "list", "--all")).toEqual([]);
});

test("a CSV with bad lines writes nothing and names them; mended, it is written whole", async () => {
  const folder = keptFolder();
  const file = join(folder, "lots.csv");
  writeFileSync(file, "lot,large,small,in\na,10,20,2025-11-01\nb,ten,20,2025-11-01\na,1,,\n");
  const faulty = await runDrowse(["lot", "add", "--from-csv", file], folder);
  expect(faulty.code).toBe(1);
  expect(faulty.stderr).toBe(
    `drowse: JOURNAL_FAULTY: ${file} has bad lines, so nothing was written\n` +
      '  line 3, large "ten": expected a whole number from 0 to 1000000\n' +
      '  line 4, lot "a": expected an id of its own; there is a lot of this name already\n',
  );
  expect(await told(folder, "lot", "list", "--all")).toEqual([]);
  writeFileSync(file, "lot,large,small,in\na,10,20,2025-11-01\nb,10,20,2025-11-01\n");
  const good = await runDrowse(["lot", "add", "--from-csv", file], folder);
  expect(good).toMatchObject({ code: 0, stderr: "" });
  expect(good.stdout).toMatch(/^Lots entered: 2\./);
  const missing = await runDrowse(["tend", "--from-csv", join(folder, "none.csv")], folder);
  expect(missing).toMatchObject({
    code: 1,
    stderr: expect.stringMatching(/JOURNAL_FAULTY: reading/),
  });
});

test("what goes out as CSV comes in again elsewhere", async () => {
  const [from, to] = [keptFolder(), keptFolder()];
  await told(from, "lot", "add", "hedge", "--large", "8", "--in", dayAgo(30));
  await told(from, "tend", "inspected", "--saw", "mould,mites", "--words", 'so, "early"');
  await told(from, "tend", "withdrawn", "--corrects", "2");
  const lots = await runDrowse(["lot", "list", "--csv"], from);
  const journal = await runDrowse(["tend", "--csv"], from);
  writeFileSync(join(to, "lots.csv"), lots.stdout);
  writeFileSync(join(to, "journal.csv"), journal.stdout);
  await told(to, "lot", "add", "--from-csv", "lots.csv");
  const [{ cautions }] = await told(to, "tend", "--from-csv", "journal.csv");
  expect(cautions.join(" ")).toMatch(/Keep no food.*Mould dust harms lungs.*authority/s);
  const without = (entries: { writtenAt?: string }[]) =>
    entries.map(({ writtenAt: _, ...entry }) => entry);
  expect(without(await told(to, "tend"))).toEqual(without(await told(from, "tend")));
});
