import { join } from "node:path";
import { expect, test } from "vitest";
import { openStore } from "../../../daemon/store/store.js";
import type { Finding } from "../../../shared/excursion.js";
import { runDrowse } from "../../command.js";
import { PLAIN, writeFiles } from "../config/written-config.js";

const START_MS = Date.UTC(2026, 0, 11, 3);

function finding(excursionId: string, urgency: Finding["urgency"]): Finding {
  const cost = {
    degreeHoursAbove: 0,
    degreeHoursBelow: 0,
    reserveDays: 0,
    wetHours: null,
    mouldIndex: null,
  };
  return {
    atMs: START_MS,
    chamberId: "shed",
    probeId: "shed-air",
    excursionId,
    change: "opened",
    cause: urgency === "rush" ? "cooling-lost" : "door-ajar",
    urgency,
    startedAtMs: START_MS,
    cocoonC: 4,
    airC: 9,
    humidityPct: null,
    cocoonSpanC: null,
    comparedWith: "the fridge's habit",
    cost,
    forecast: null,
  };
}

/** A store with two urgent excursions and one that is not. */
function keptFolder(): string {
  const folder = writeFiles({ "drowse.toml": PLAIN });
  const store = openStore(join(folder, "state"), { timezone: "Europe/London" });
  const findings = [finding("a", "rush"), finding("b", "rush"), finding("c", "visit")];
  store.commit({ readings: [], findings, letters: [], judge: null, heard: [] }, []);
  store.close();
  return folder;
}

const acknowledgedIn = (stdout: string) =>
  JSON.parse(stdout)
    .open.filter((open: { acknowledgedAt: string | null }) => open.acknowledgedAt !== null)
    .map((open: { id: string }) => open.id);

test("--acknowledge alone acknowledges all that is urgent and nothing else", async () => {
  const folder = keptFolder();
  const before = await runDrowse(["now", "--json"], folder);
  expect(acknowledgedIn(before.stdout)).toEqual([]);
  const after = await runDrowse(["now", "--acknowledge", "--json"], folder);
  expect(JSON.parse(after.stdout).acknowledged).toEqual(["a", "b"]);
  expect(acknowledgedIn(after.stdout)).toEqual(["a", "b"]);
  const again = await runDrowse(["now", "--acknowledge"], folder);
  expect(again.stdout).toContain("Acknowledged: nothing was to be");
});

test("--acknowledge ID acknowledges that one; an unknown id names the nearest", async () => {
  const folder = keptFolder();
  const { stdout } = await runDrowse(["now", "--json", "--acknowledge", "c"], folder);
  expect(acknowledgedIn(stdout)).toEqual(["c"]);
  const wrong = await runDrowse(["now", "--acknowledge", "cc"], folder);
  expect(wrong.code).toBe(1);
  expect(wrong.stderr).toBe("drowse: EXCURSION_UNKNOWN: no excursion cc; nearest is c\n");
});

test("the page says where, why and how urgent, with times of the site", async () => {
  const { stdout } = await runDrowse(["now"], keptFolder());
  expect(stdout).toMatch(/^Quillmere shed, /);
  expect(stdout).toMatch(/cooling-lost +shed +rush +for .* +not acknowledged +a/);
  expect(stdout).toContain("Letters: all delivered.");
});
