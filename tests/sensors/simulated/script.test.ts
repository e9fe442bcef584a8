import { expect, test } from "vitest";
import { type Happening, playScript, turnScript } from "../../../sensors/simulated/script.js";

const MIN = 60_000;
const DAY = 1_440 * MIN;

test("a happening counts from its start until before its end", () => {
  const script: Happening[] = [{ kind: "door", startMs: MIN, endMs: 2 * MIN, share: 0.5 }];
  const playing = playScript(script, 0);
  const share = (atMs: number) => turnScript(playing, atMs).doorShare;
  expect([0, MIN - 1, MIN, 2 * MIN - 1, 2 * MIN].map(share)).toEqual([0, 0, 0.5, 0.5, 0]);
});

test("of two who open the door, the wider counts", () => {
  const playing = playScript(
    [
      { kind: "door", startMs: 0, endMs: 10 * MIN, share: 0.2 },
      { kind: "door", startMs: MIN, endMs: 2 * MIN, share: 1 },
    ],
    0,
  );
  const share = (atMs: number) => turnScript(playing, atMs).doorShare;
  expect([0, MIN, 3 * MIN, 10 * MIN].map(share)).toEqual([0.2, 1, 0.2, 0]);
});

test("food is put in once", () => {
  const restock: Happening = { kind: "restock", startMs: 5, endMs: 5, share: 0.3, foodC: 18 };
  const playing = playScript([restock], 0);
  const shares = [0, 5, 10, 15].map((atMs) => turnScript(playing, atMs).restockShare);
  expect(shares).toEqual([0, 0.3, 0, 0]);
});

test("a dial creeps colder day by day, to its most, and back when put right", () => {
  const creep: Happening = {
    kind: "dial-creep",
    startMs: 0,
    endMs: 4 * DAY,
    perDayK: -2,
    mostK: -5,
  };
  const playing = playScript([creep], 0);
  const shift = (atMs: number) => turnScript(playing, atMs).dialShiftK;
  expect([0, DAY, 2 * DAY, 3 * DAY, 4 * DAY].map(shift)).toEqual([0, -2, -4, -5, 0]);
});

test("taken up midway, a script is where it would have been", () => {
  const script: Happening[] = [
    { kind: "compressor-dead", startMs: 0, endMs: 10 * MIN },
    { kind: "power-cut", startMs: 2 * MIN, endMs: 3 * MIN },
    { kind: "contacts-welded", startMs: 6 * MIN, endMs: 9 * MIN },
    { kind: "room-heat", startMs: 4 * MIN, endMs: 8 * MIN, riseK: 3 },
  ];
  for (let fromMs = 0; fromMs <= 12 * MIN; fromMs += MIN) {
    const whole = playScript(script, 0);
    for (let atMs = 0; atMs < fromMs; atMs += MIN / 2) turnScript(whole, atMs);
    const late = playScript(script, fromMs);
    for (let atMs = fromMs; atMs <= 12 * MIN; atMs += MIN / 2)
      expect(turnScript(late, atMs), `${fromMs} ${atMs}`).toEqual(turnScript(whole, atMs));
  }
});
