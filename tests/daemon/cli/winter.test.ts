import { join } from "node:path";
import { parse } from "csv-parse/sync";
import { afterAll, beforeAll, expect, test } from "vitest";
import { gatherWinter } from "../../../daemon/season/gather-winter.js";
import { type Review, reviewOf } from "../../../daemon/season/review.js";
import { openStore } from "../../../daemon/store/store.js";
import { DAY_MS, HOUR_MS } from "../../../shared/time.js";
import { runDrowse } from "../../command.js";
import { AUTUMN_MS, QUILLMERE } from "../../quillmere-winter.js";
import { type KeptWinter, makeKeptWinter } from "./kept-winter.js";

let kept: KeptWinter;

beforeAll(() => {
  // A door stands ajar on the thirteenth day.
  kept = makeKeptWinter(34, (store) => {
    store.journal.write(AUTUMN_MS + 20 * DAY_MS, () => ({
      lots: [],
      entries: [
        {
          atMs: AUTUMN_MS + 20 * DAY_MS + 9 * HOUR_MS,
          chamberId: "shed",
          lotId: null,
          act: { kind: "damped" },
          words: "two drops each",
          corrects: null,
        },
      ],
    }));
  });
}, 180_000);

afterAll(() => kept.remove());

const winter = (...options: string[]) => runDrowse(["winter", ...options], kept.folder);

/** The same season, reckoned here from the store. */
function reviewed(): Review {
  const store = openStore(join(kept.folder, "state"), QUILLMERE, { mode: "look" });
  const span = { fromMs: AUTUMN_MS, toMs: kept.nowMs };
  const material = gatherWinter(store, QUILLMERE, QUILLMERE.chambers[0]!, span, kept.nowMs);
  store.close();
  return reviewOf(material, QUILLMERE.timezone);
}

test("the review draws each month in letters, with what happened under it", async () => {
  const { code, stdout } = await winter();
  expect(code).toBe(0);
  expect(stdout).toMatch(/^shed, 1 October 2026 to 3 November 2026\n=+\n/);
  expect(stdout).toMatch(/^October 2026 +in band (over )?\d+ %$/m);
  const cocoons = /^cocoons {3}(.*)$/m.exec(stdout)![1]!;
  // Two letters to a day: warm on the thirteenth, and on no other of October.
  expect(cocoons).toHaveLength(62);
  expect(cocoons.slice(24, 26)).toBe("\\\\");
  expect(cocoons.replace("\\\\", "--")).toMatch(/^-+$/);
  expect(stdout).toMatch(/^ {2}[a-z] {2}Tue 13 Oct, \d\d:\d\d: door ajar, .*°C·h above/m);
  expect(stdout).toContain("  -  Wed 21 Oct, 09:00: damped (two drops each)");
  expect(stdout.split("\n").filter((line) => line.length > 80)).toEqual([]);
  for (const line of stdout.split("\n")) expect(line.length).toBeLessThanOrEqual(100);
});

test("the figures come as CSV, the whole before its months and weeks", async () => {
  const { stdout } = await winter("--csv");
  // RFC 4180, section 2: lines end with CRLF.
  expect(stdout.split("\r\n").length).toBeGreaterThan(5);
  const rows = parse(stdout, { columns: true }) as Record<string, string>[];
  const { whole, months, weeks } = reviewed();
  expect(rows.map(({ part }) => part)).toEqual([
    "whole",
    ...months.map(() => "month"),
    ...weeks().map(() => "week"),
  ]);
  expect(Number(rows[0]!.reserve_days)).toBeCloseTo(whole.reserveDays!, 2);
  expect(Number(rows[0]!.degree_hours_above)).toBeCloseTo(whole.degreeHoursAbove, 1);
  expect(rows[0]!.from).toBe("2026-09-30T23:00:00Z");
  expect(Number(rows[1]!.warmest_c)).toBe(months[0]!.cocoonSpanC!.high);
});

test("programs get all of it as JSON", async () => {
  const { seasons } = JSON.parse((await winter("--json")).stdout);
  expect(seasons).toHaveLength(1);
  expect(seasons[0]).toMatchObject({ chamber: "shed", from: "2026-09-30T23:00:00Z" });
  expect(seasons[0].whole.openings).toBe(reviewed().whole.openings);
  expect(seasons[0].excursions.map((one: { cause: string }) => one.cause)).toContain("door-ajar");
});

test("the judge's own sums agree with those reckoned by the hour", async () => {
  const { seasons } = JSON.parse((await winter("--json")).stdout);
  const { whole, judged } = seasons[0];
  // Within an hour the cocoons swing with the compressor, which hours smooth.
  expect(Math.abs(whole.reserveDays / judged.reserveDays - 1)).toBeLessThan(0.01);
  expect(Math.abs(whole.inBandShare - judged.inBandShare)).toBeLessThan(0.02);
  expect(whole.cocoonSpanC.high).toBeCloseTo(judged.cocoonSpanC.high, 0);
  expect(whole.degreeHoursAbove).toBeGreaterThan(0.8 * judged.degreeHoursAbove);
  expect(whole.degreeHoursAbove).toBeLessThan(1.05 * judged.degreeHoursAbove);
});

test("two seasons stand side by side, each in its column", async () => {
  const october = ["--from", "2026-10-01", "--to", "2026-10-11"];
  const { stdout } = await winter(...october, "--beside", "2026-10-11");
  expect(stdout).toMatch(/^shed, 1 October 2026 to 10 October 2026\nshed, 11 October 2026 to 20/);
  const row = /^Coldest, warmest +(.+?) {2,}(.+)$/m.exec(stdout)!;
  expect(row[1]).not.toBe(row[2]);
  // Of the same month: one under the other.
  expect(stdout).toMatch(/^Oct 2026 {2}-+\nOct 2026 +-+\\\\-+$/m);
});

test.each([
  [["--chamber", "shet"], /no chamber shet in the config; nearest is shed/],
  [["--from", "yesterday"], /time "yesterday", expected a day such as/],
  [["--from", "2026-10-09", "--to", "2026-10-01"], /the season ends before it begins/],
  [["--beside"], /no winter before this one was kept in shed/],
  [["--html", "--csv"], /cannot be used with/],
])("winter %j is refused with a cure", async (options, words) => {
  const { code, stderr, stdout } = await winter(...options);
  expect(code).toBe(2);
  expect(stdout).toBe("");
  expect(stderr).toMatch(words);
});

test("a stretch in which nothing was measured says so", async () => {
  const { code, stdout } = await winter("--from", "2020-01-01", "--to", "2020-02-01");
  expect([code, stdout]).toEqual([0, "Nothing was measured in that time.\n"]);
});
