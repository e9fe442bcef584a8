import { writeFileSync } from "node:fs";
import { join } from "node:path";
import { expect, test } from "vitest";
import { loadConfig } from "../../../daemon/config.js";
import { openStore } from "../../../daemon/store/store.js";
import { addDays } from "../../../shared/calendar-day.js";
import { DAY_MS, HOUR_MS } from "../../../shared/time.js";
import { runDrowse } from "../../command.js";
import { PLAIN, writeFiles } from "../config/written-config.js";
import { OWN_HOST, servePages } from "../web/served.js";

/** Quillmere with a bee of its own, which its only chamber is set up for. */
const OWN = `${PLAIN.replace('id = "shed"', 'id = "shed"\nspecies = "quillmere-bee"')}
[[species]]
id = "quillmere-bee"
name = "Bee of Quillmere"
like = "osmia-cornuta"
band_c = [2, 4]
storage_days = [60, 90]
chill_below_c = 4
`;

/** What is wrong with a config; its lines after the first. */
function faultsOf(text: string): string {
  const folder = writeFiles({ "drowse.toml": text });
  try {
    loadConfig(join(folder, "drowse.toml"));
    return "";
  } catch (error) {
    return (error as Error).message;
  }
}

async function printed(folder: string, ...args: string[]): Promise<string> {
  const { code, stdout, stderr } = await runDrowse(args, folder);
  expect({ code, stderr }).toEqual({ code: 0, stderr: "" });
  return stdout;
}

test("lots of a keeper's own species have its longest sound storage, by command and by CSV", async () => {
  const folder = writeFiles({ "drowse.toml": OWN });
  openStore(join(folder, "state"), { timezone: "Europe/London" }).close();
  const in_ = new Date(Date.now() - 30 * DAY_MS).toISOString().slice(0, 10);
  await printed(folder, "lot", "add", "hedge", "--large", "8", "--in", in_);
  writeFileSync(
    join(folder, "lots.csv"),
    `lot,large,chamber,in,species\nplum,5,shed,${in_},quillmere-bee\npear,5,shed,${in_},osmia-lignaria\n`,
  );
  await printed(folder, "lot", "add", "--from-csv", "lots.csv");
  const until = async (id: string) => {
    const lot = JSON.parse(await printed(folder, "lot", "show", id, "--json"));
    return [lot.species, lot.latestOn];
  };
  expect(await until("hedge")).toEqual(["quillmere-bee", addDays(in_, 90)]);
  expect(await until("plum")).toEqual(["quillmere-bee", addDays(in_, 90)]);
  // SARE Handbook 11 (2010): roughly 100 to 200 days in cold storage.
  expect(await until("pear")).toEqual(["osmia-lignaria", addDays(in_, 200)]);
  const page = await printed(folder, "lot", "show", "plum");
  expect(page).toMatch(/Species +Bee of Quillmere\n/);
  expect(page).toMatch(/Sound storage until .*the 90 days set for its species/);
});

test("the judge holds a chamber against the values set for its species", async () => {
  const start = Date.UTC(2026, 0, 11);
  const rows = Array.from({ length: 2 * 24 * 6 }, (_, i) => {
    return `${new Date(start + i * (HOUR_MS / 6)).toISOString()},shed-air,5,65`;
  });
  const csv = ["time,probe,temperature_c,humidity_pct", ...rows].join("\n");
  const chill = async (toml: string): Promise<number> => {
    const folder = writeFiles({ "drowse.toml": toml, "winter.csv": csv });
    const lines = (await printed(folder, "replay", "winter.csv", "--json")).trim().split("\n");
    return JSON.parse(lines.at(-1)!).summary.shed.chillDays;
  };
  expect(await chill(OWN)).toBe(0);
  // 5 °C is chill by the table's 7 °C: 2 days, less the edges.
  expect(await chill(PLAIN)).toBeCloseTo(2, 1);
});

test("a chamber has the band of its species, unless it sets one", () => {
  const bandIn = (text: string) => {
    const folder = writeFiles({ "drowse.toml": text });
    return loadConfig(join(folder, "drowse.toml")).site.chambers[0]!.bandC;
  };
  expect(bandIn(OWN)).toEqual({ low: 2, high: 4 });
  const set = OWN.replace(
    'species = "quillmere-bee"',
    'species = "quillmere-bee"\nband_c = [1, 3]',
  );
  expect(bandIn(set)).toEqual({ low: 1, high: 3 });
});

test("the form of a lot offers a keeper's own species", async () => {
  const folder = writeFiles({ "drowse.toml": OWN });
  const { site } = loadConfig(join(folder, "drowse.toml"));
  const { app } = servePages({ config: { site } });
  const ask = (url: string) => app.inject({ url, headers: { host: OWN_HOST } });
  const { body } = await ask((await ask("/lots/new")).headers.location!);
  expect(body).toContain('<option value="quillmere-bee" selected>Bee of Quillmere</option>');
  expect(body).toContain('<option value="osmia-cornuta">Osmia cornuta</option>');
});

test("a fault in a species, or a species that nobody knows, is named with its cure", () => {
  expect(faultsOf(OWN.replace('"quillmere-bee"', '"osmia-bicornus"'))).toMatch(
    /chamber\[shed\]\.species = "osmia-bicornus": .*nearest is osmia-bicornis; for other bees add a \[\[species\]\]/,
  );
  const known = OWN.replaceAll('"quillmere-bee"', '"osmia-cornuta"');
  expect(faultsOf(known)).toMatch(
    /species\[osmia-cornuta\]\.id = "osmia-cornuta": expected an id of its own, and like =/,
  );
  expect(faultsOf(OWN.replace("[60, 90]", "[90, 60]"))).toMatch(
    /species\[quillmere-bee\]\.storage_days = \[90,60\]: .*the low edge below/,
  );
  expect(faultsOf(OWN.replace("storage_days", "storage_day"))).toMatch(
    /storage_day = \[60,90\]: unknown key, nearest known key: storage_days/,
  );
  expect(faultsOf(OWN.replace('like = "osmia-cornuta"', 'like = "apis"'))).toMatch(
    /like = "apis": expected one of "osmia-lignaria"/,
  );
});
