import { join } from "node:path";
import { expect, test } from "vitest";
import { openStore } from "../../daemon/store/store.js";
import { runDrowse, startDrowse } from "../command.js";
import { keepCourse } from "../daemon/checks/kept-course.js";
import { PLAIN, writeFiles } from "../daemon/config/written-config.js";
import { dayMs, liveCourse } from "../rules/quillmere.js";

const TWO_PROBES = `${PLAIN}
[[probe]]
id = "shed-box"
chamber = "shed"
place = "box"
topic = "quillmere/shed/box"
payload = "number"
`;

/** A sound month in which the box probe shows 2.5 °C too much from 11 November on. */
function wrongMonth() {
  const course = liveCourse({ days: 30, seed: 4 });
  const readings = course.readings.map((reading) =>
    reading.probeId === "shed-box" && reading.takenAtMs >= dayMs(10)
      ? { ...reading, temperatureC: Math.round((reading.temperatureC! + 2.5) * 10) / 10 }
      : reading,
  );
  return { ...course, readings };
}

test("a check dated back three weeks has the month judged anew by the keep that runs", {
  timeout: 120_000,
}, async () => {
  const pairs = "probe_c\n2.5\n2.5\n2.5\n2.5\n";
  const folder = writeFiles({ "drowse.toml": TWO_PROBES, "pairs.csv": pairs });
  const { site, readings } = wrongMonth();
  const store = openStore(join(folder, "state"), site);
  keepCourse(store, site, readings);
  const told = () => store.excursions.between(0, dayMs(30)).filter((e) => e.cause === "warm");
  expect(told().some(({ urgency }) => urgency === "visit")).toBe(true);
  const kept = store.readings.count();
  store.close();

  const keep = startDrowse(["keep"], folder);
  await keep.untilPrints(/listening for sensors/);
  const options = ["--probe", "shed-box", "--pairs", "pairs.csv", "--reference", "ice"];
  const check = ["check", ...options, "--from", "2025-11-11", "--json"];
  const { code, stdout } = await runDrowse(check, folder);
  expect(code).toBe(0);
  const { takenIn, changes } = JSON.parse(stdout);
  expect(takenIn).toBe(true);
  expect(changes[0]).toContain("Events that were told and were none");
  expect(changes[0]).toContain("- Too warm, from ");
  const warmest = /Warmest cocoons +([\d.]+) °C \(was ([\d.]+) °C\)/.exec(changes[0])!;
  // What was added to the readings is taken off again; 0.1 for the letter's rounding.
  expect(Math.abs(Number(warmest[2]) - Number(warmest[1]) - 2.5)).toBeLessThan(0.11);

  const look = openStore(join(folder, "state"), site, { mode: "look" });
  const warm = look.excursions.between(0, dayMs(30)).filter((e) => e.cause === "warm");
  const lows = look.rollups.days("shed-box", dayMs(11), dayMs(29)).map((d) => d.temperature!.meanC);
  expect(look.readings.count()).toBe(kept);
  look.close();
  expect(warm).toEqual([]);
  expect(Math.max(...lows)).toBeLessThan(3.3);
});
