import { expect, test } from "vitest";
import { transplantChamber, transplantHabit } from "../../rules/transplant.js";
import { asReading, judge, liveCourse } from "./quillmere.js";

const course = liveCourse({ days: 3, seed: 6 });
const lastAir = course.readings.findLastIndex(({ probeId }) => probeId === "shed-air");
const readings = course.readings.slice(0, lastAir + 1);
const warmer = readings.map((r) =>
  r.probeId === "shed-air" ? { ...r, temperatureC: r.temperatureC! + 1 } : r,
);
const was = judge(readings.map(asReading), course.site).state;
const anew = judge(warmer.map(asReading), course.site).state;
const IDS = ["shed-air", "shed-box"];

test("a chamber taken over is the other judgement's whole, down to what waits to be judged", () => {
  const taken = transplantChamber(was, anew, "shed", IDS);
  expect(taken).toEqual({ ...anew, hearings: was.hearings });
  expect(was.gathered.length).toBeGreaterThan(0);
  expect(taken.gathered).not.toEqual(was.gathered);
});

test("habits taken over leave what the winter cost as it was, and compare probes anew", () => {
  const taken = transplantHabit(was, anew, "shed", IDS);
  const [before, after] = [was.chambers[0]!, taken.chambers[0]!];
  expect(after.watch).toEqual(anew.chambers[0]!.watch);
  expect(after.exposure).toEqual(before.exposure);
  expect(after.heat).toEqual(before.heat);
  expect(was.health.partings[0]!.days.length).toBeGreaterThan(0);
  expect(taken.health.partings[0]!.days).toEqual([]);
});

test("a chamber that the other judgement does not know stays as it is", () => {
  const other = { ...anew, chambers: [], gathered: [] };
  expect(transplantHabit(was, other, "shed", []).chambers).toEqual(was.chambers);
});
