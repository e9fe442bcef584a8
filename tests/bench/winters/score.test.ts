import { expect, test } from "vitest";
import type { Label } from "./label.js";
import { parOf, scoreWinter, type Told } from "./score.js";

const MIN = 60_000;
const HOUR = 60 * MIN;
const PAR = parOf(MIN, true);

function labelOf(changes: Partial<Label> & Pick<Label, "kind">): Label {
  return {
    startMs: 100 * HOUR,
    endMs: 101 * HOUR,
    nextStartDueMs: null,
    cocoonCrosses5AtMs: null,
    cocoonCrosses0AtMs: null,
    probeId: null,
    doorShare: null,
    airRiseK: null,
    ...changes,
  };
}

function letterOf(atMs: number, changes: Partial<Told> = {}): Told {
  return {
    atMs,
    change: "opened",
    cause: "door-ajar",
    urgency: "visit",
    startedAtMs: atMs,
    chamberId: "shed",
    probeId: "shed-air",
    ...changes,
  };
}

const DOOR = labelOf({ kind: "door-ajar" });

test("a door told in eight minutes as a door is told well; in nine it is late", () => {
  const at = (min: number) => scoreWinter([DOOR], [letterOf(DOOR.startMs + min * MIN)], PAR);
  expect(at(8).verdicts[0]).toMatchObject({ delayMin: 8, causeRight: true, inTime: true });
  expect(at(9).verdicts[0]).toMatchObject({ delayMin: 9, causeRight: true, inTime: false });
  expect(at(8).inVain).toEqual([]);
});

test("only the first letter counts, and its cause", () => {
  const letters = [
    letterOf(DOOR.startMs + 20 * MIN, { change: "raised" }),
    letterOf(DOOR.startMs + 5 * MIN, { cause: "warm" }),
  ];
  expect(scoreWinter([DOOR], letters, PAR).verdicts[0]).toMatchObject({
    delayMin: 5,
    causeRight: false,
  });
});

test("notes and endings are no letters: they tell nothing and are never in vain", () => {
  const quiet = [
    letterOf(DOOR.startMs + 5 * MIN, { urgency: "note" }),
    letterOf(DOOR.startMs + 6 * MIN, { change: "ended" }),
    letterOf(HOUR, { urgency: "note" }),
    letterOf(2 * HOUR, { change: "ended" }),
  ];
  const score = scoreWinter([DOOR], quiet, PAR);
  expect(score.verdicts[0]).toMatchObject({ letter: null, delayMin: null, inTime: false });
  expect(score).toMatchObject({ inVain: [], letters: 0 });
});

test("a letter counts until three hours after a door is shut, then it is in vain", () => {
  const last = DOOR.endMs + 3 * HOUR;
  expect(scoreWinter([DOOR], [letterOf(last)], PAR).inVain).toHaveLength(0);
  expect(scoreWinter([DOOR], [letterOf(last + 1)], PAR).inVain).toHaveLength(1);
  expect(scoreWinter([DOOR], [letterOf(DOOR.startMs - 1)], PAR).inVain).toHaveLength(1);
});

test("a dead compressor's clock starts when its next start was due", () => {
  const dead = labelOf({ kind: "cooling-lost", nextStartDueMs: 100 * HOUR + 20 * MIN });
  const at = (min: number, label = dead) =>
    scoreWinter([label], [letterOf(100 * HOUR + min * MIN, { cause: "cooling-lost" })], PAR);
  expect(at(80).verdicts[0]).toMatchObject({ delayMin: 60, inTime: true });
  expect(at(81).verdicts[0]).toMatchObject({ delayMin: 61, inTime: false });
  expect(at(24 * 60 + 60).inVain).toHaveLength(0);
});

test("cocoons past 5 °C first make it late only where that took over an hour", () => {
  const dueMs = 100 * HOUR;
  const crossing = (min: number) =>
    labelOf({ kind: "cooling-lost", nextStartDueMs: dueMs, cocoonCrosses5AtMs: dueMs + min * MIN });
  const letter = [letterOf(dueMs + 60 * MIN, { cause: "cooling-lost" })];
  expect(scoreWinter([crossing(50)], letter, PAR).verdicts[0]?.inTime).toBe(true);
  expect(scoreWinter([crossing(61)], letter, PAR).verdicts[0]?.inTime).toBe(true);
  const after = [letterOf(dueMs + 62 * MIN, { cause: "cooling-lost" })];
  expect(scoreWinter([crossing(61)], after, { ...PAR, deadMin: 90 }).verdicts[0]?.inTime).toBe(
    false,
  );
});

test("a thermostat gone cold is told in time before the cocoons pass 0 °C", () => {
  const cold = labelOf({ kind: "over-cooling", cocoonCrosses0AtMs: 100.5 * HOUR });
  const at = (hours: number) =>
    scoreWinter([cold], [letterOf(hours * HOUR, { cause: "over-cooling" })], PAR).verdicts[0];
  expect(at(100.4)?.inTime).toBe(true);
  expect(at(100.5)?.inTime).toBe(false);
});

test("a silent probe is told by a letter on probes, and by no other", () => {
  const mute = labelOf({ kind: "probe-mute", probeId: "shed-air" });
  const warm = letterOf(mute.startMs + 5 * MIN, { cause: "warm" });
  expect(scoreWinter([mute], [warm], PAR).verdicts[0]?.letter).toBeNull();
  const told = letterOf(mute.startMs + 8 * MIN, { cause: "probe-mute" });
  expect(scoreWinter([mute], [told], PAR).verdicts[0]).toMatchObject({ inTime: true });
});

test("par follows the interval and the humidity", () => {
  expect(parOf(60_000, true)).toEqual({ doorMin: 8, deadMin: 60, muteMin: 8 });
  expect(parOf(300_000, true)).toEqual({ doorMin: 12, deadMin: 60, muteMin: 20 });
  expect(parOf(60_000, false).doorMin).toBe(15);
});
