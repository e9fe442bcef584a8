import { expect, test } from "vitest";
import { dueSection, releaseSection } from "../../../daemon/due/due-words.js";
import { gatherYear } from "../../../daemon/due/gather-due.js";
import { openDraft } from "../../../daemon/journal/draft.js";
import { setTextSection } from "../../../daemon/letters/set-text.js";
import { madeCheck } from "../checks/made-checks.js";
import { commitReadings } from "../store/temporary-store.js";
import { openYear, YEAR_CONFIG } from "./quillmere-year.js";

const noon = (day: string) => Date.parse(`${day}T12:00:00Z`);
const midnight = (day: string) => Date.parse(`${day}T00:00:00Z`);

const HEDGE = { lot: "hedge", large: "80", small: "120", chamber: "shed", in: "2025-11-01" };

/** A winter in which one lot lay at 2 °C since November. */
function openWinter(untilDay: string) {
  const year = openYear();
  year.cocoons(noon("2025-11-01"), noon(untilDay), 2);
  year.write(noon("2025-11-01"), [HEDGE], []);
  const at = (day: string) => gatherYear(year.store, YEAR_CONFIG, noon(day));
  return { ...year, at, dueAt: (day: string) => at(day).due.map(({ id, on }) => [id, on]) };
}

test("an empty store asks for nothing", () => {
  const { store } = openYear();
  const report = gatherYear(store, YEAR_CONFIG, noon("2026-01-11"));
  expect(report).toMatchObject({ today: "2026-01-11", lots: [], due: [], release: null });
  expect(dueSection(report, 366)).toBeNull();
});

test("a lot in the cold has its chamber inspected and damped, and its end foretold", () => {
  const { dueAt } = openWinter("2025-11-03");
  // Three weeks is the middle of two to four: damping once or twice a month, common practice.
  expect(dueAt("2025-11-03")).toEqual([
    ["inspect.shed.2025-11-01", "2025-11-15"],
    ["damp.shed.2025-11-01", "2025-11-22"],
    ["storage-ends.hedge.2025-11-01", "2026-05-20"],
  ]);
});

test("what was done moves what is due on, also when it is written late or taken back", () => {
  const { write, dueAt } = openWinter("2025-12-20");
  write(
    noon("2025-12-01"),
    [],
    [
      { deed: "inspected", saw: "nothing", on: "2025-11-28" },
      { deed: "damped", on: "2025-11-29" },
      { deed: "weighed", lot: "hedge", mass_g: "3.2", cocoons: "30" },
    ],
  );
  const due = () =>
    Object.fromEntries(dueAt("2025-12-02").map(([id, on]) => [id!.split(".")[0], on]));
  expect(due()).toMatchObject({ inspect: "2025-12-12", damp: "2025-12-20", weigh: "2025-12-31" });
  write(noon("2025-12-02"), [], [{ deed: "withdrawn", corrects: "3" }]);
  expect(due()).toMatchObject({ damp: "2025-11-22" });
});

test("once it is empty, nothing is due in a chamber; filled again, it counts afresh", () => {
  const { write, dueAt } = openWinter("2026-02-01");
  write(noon("2026-01-10"), [], [{ deed: "moved", lot: "hedge", to: "out" }]);
  expect(dueAt("2026-01-11")).toEqual([]);
  write(noon("2026-01-20"), [], [{ deed: "moved", lot: "hedge", to: "shed" }]);
  expect(dueAt("2026-01-21")[0]).toEqual(["inspect.shed.2026-01-20", "2026-02-03"]);
});

test("warm days in January do not fool it, and it says why", () => {
  const { outdoors, at } = openWinter("2026-01-20");
  outdoors(midnight("2026-01-15"), 6, 14, 14.2, 15, 14);
  const { release } = at("2026-01-20");
  expect(release).toMatchObject({ word: "hold", stages: [] });
  expect(release!.lots[0]!.verdict.isFalseSpring).toBe(true);
  const text = setTextSection(releaseSection(release!, "C", 13));
  expect(text).toContain("a warm spell is no spring");
  expect(text).toContain(
    "hedge: hold. 4 days in a row, since 16 January 2026, were as warm as 13 °C.",
  );
  expect(text).toContain("They have had 80 days of cold of the 90 after");
  expect(text).toContain("No bloom was written into the journal");
  expect(text).toContain("Bloom and the advice of those who know your place decide");
});

test("in spring it is ready in stages, males first, and goes on from what was put out", () => {
  const { store, outdoors, write, at, dueAt } = openWinter("2026-04-10");
  outdoors(midnight("2026-03-30"), 10, 14, 15, 16, 17);
  expect(at("2026-04-03").release?.word).toBe("hold");
  write(noon("2026-04-02"), [], [{ deed: "bloom", words: "plum" }]);
  expect(at("2026-04-03").release).toMatchObject({
    word: "ready",
    stages: [
      { on: "2026-04-02", lotId: "hedge", size: "small", count: 120, latestOn: "2026-05-20" },
      { on: "2026-04-06", lotId: "hedge", size: "large", count: 80, spareDays: 44 },
    ],
  });
  // What the fridge's air is like says nothing of the weather.
  const inside = { probeId: "shed-air", takenAtMs: noon("2026-04-02"), temperatureC: 2 };
  commitReadings(store, [{ ...inside, humidityPct: null }]);
  expect(at("2026-04-03").release?.word).toBe("ready");
  write(noon("2026-04-03"), [], [{ deed: "released", lot: "hedge", small: "120" }]);
  const releases = dueAt("2026-04-03").filter(([id]) => id!.startsWith("release"));
  expect(releases).toEqual([["release.hedge.large", "2026-04-07"]]);
  write(noon("2026-04-07"), [], [{ deed: "released", lot: "hedge" }]);
  expect(at("2026-04-07").release).toBeNull();
  expect(at("2026-04-07").due.filter(({ kind }) => kind !== "check")).toEqual([]);
});

test.each([
  ["bloom came first", "2026-03-28", "2026-04-02"],
  ["warmth came first", "2026-04-03", "2026-04-03"],
])("the first stage is on the day it became ready: %s", (_what, bloomOn, readyOn) => {
  const { outdoors, write, at } = openWinter("2026-04-10");
  outdoors(midnight("2026-03-31"), 14, 15, 16, 17, 18);
  write(noon("2026-04-04"), [], [{ deed: "bloom", on: bloomOn }]);
  expect(at("2026-04-04").release?.stages[0]?.on).toBe(readyOn);
});

test("a chamber that its lots have left for another asks for nothing", () => {
  const { store, write } = openWinter("2026-01-20");
  const [shed] = YEAR_CONFIG.site.chambers;
  const site = { ...YEAR_CONFIG.site, chambers: [shed!, { ...shed!, id: "barn" }] };
  write(noon("2026-01-10"), [], [{ deed: "moved", lot: "hedge", to: "out" }]);
  const draft = openDraft(site, store.journal.soFar(), noon("2026-01-11"));
  expect(draft.addEntry({ deed: "moved", lot: "hedge", to: "barn" })).toBeNull();
  store.journal.write(noon("2026-01-11"), draft.batch);
  const { due } = gatherYear(store, { ...YEAR_CONFIG, site }, noon("2026-01-12"));
  const chambers = due.flatMap((one) => ("chamberId" in one ? [one.chamberId] : []));
  expect(chambers).toEqual(["barn", "barn"]);
});

test("of two probes outdoors the one that the sun does not reach counts", () => {
  const { outdoors, write, store } = openWinter("2026-04-10");
  outdoors(midnight("2026-03-31"), 14, 15, 16);
  write(noon("2026-04-02"), [], [{ deed: "bloom" }]);
  const shady = { ...YEAR_CONFIG.site.probes[1]!, id: "shady" };
  const site = { ...YEAR_CONFIG.site, probes: [...YEAR_CONFIG.site.probes, shady] };
  const word = () => gatherYear(store, { ...YEAR_CONFIG, site }, noon("2026-04-02")).release?.word;
  expect(word()).toBe("ready");
  const at = (day: string) => ({ probeId: "shady", takenAtMs: noon(day), humidityPct: null });
  const readings = [{ ...at("2026-04-01"), temperatureC: 12 }];
  store.commit({ readings, findings: [], letters: [], judge: null, heard: [] }, []);
  expect(word()).toBe("soon");
});

test("a probe is to be checked once it is heard, then as its last check that stands says", () => {
  const { store, outdoors } = openYear();
  const checks = () =>
    gatherYear(store, YEAR_CONFIG, noon("2026-03-01")).due.map(({ id, on }) => [id, on]);
  expect(checks()).toEqual([]);
  outdoors(midnight("2026-01-10"), 5);
  expect(checks()).toEqual([["check.yard.2026-01-10", "2026-01-10"]]);
  const check = (madeOn: string, dueOn: string) => {
    const when = { madeAtMs: noon(madeOn), dueAtMs: noon(dueOn) };
    store.checks.add(madeCheck(0.3, { id: madeOn, probeId: "yard", ...when }));
  };
  check("2026-02-01", "2027-02-01");
  check("2026-02-20", "2027-02-20");
  expect(checks()).toEqual([["check.yard.2027-02-20", "2027-02-20"]]);
  const withdrawn = { kind: "withdrawal", id: "w", checkId: "2026-02-20" } as const;
  store.checks.add({ ...withdrawn, madeAtMs: noon("2026-02-21"), by: null, note: null });
  expect(checks()).toEqual([["check.yard.2027-02-01", "2027-02-01"]]);
});

test("days in the cold that nobody saw count as cold, and are told", () => {
  const year = openYear();
  year.write(noon("2025-11-01"), [HEDGE], []);
  year.cocoons(noon("2026-01-20"), noon("2026-02-20"), 2);
  const { release } = gatherYear(year.store, YEAR_CONFIG, noon("2026-02-20"));
  expect(release!.lots[0]!.unseenDays).toBeCloseTo(80, 1);
  const text = setTextSection(releaseSection(release!, "C", 13));
  expect(text).toContain("They have had 111 days of cold, and 90 are enough");
  expect(text).toContain("Of these 80 days were not seen.");
});
