import { expect, test } from "vitest";
import { type Gathering, gather, gatherWall, NOTHING_GATHERED } from "../../rules/gathering.js";
import type { Heard } from "../../rules/lead-air.js";
import { MINUTE_MS } from "../../shared/time.js";
import { START_MS } from "./quillmere.js";

const said = (place: Heard["place"], probeId: string, temperatureC: number): Heard => ({
  probeId,
  place,
  atMs: START_MS,
  temperatureC,
  humidityPct: place === "box" ? 70 + temperatureC : null,
  freshMs: 8 * MINUTE_MS,
});

/** The slot after moments at these minutes, in each of which these were heard. */
function after(...moments: readonly (readonly [minute: number, ...heard: Heard[]])[]): Gathering {
  return moments.reduce((sums, [minute, ...heard]) => {
    const atMs = START_MS + minute * MINUTE_MS;
    const [cocoonC, airHpa, freshMs] = [2, 5, 8 * MINUTE_MS];
    return gather(sums, { atMs, cocoonC, airHpa, heard, freshMs, alone: [] });
  }, NOTHING_GATHERED);
}

test("boxes stand in the order of their ids, whichever was heard first", () => {
  const [one, two, three] = ["box-1", "box-2", "box-3"].map((id, i) => said("box", id, i + 1));
  const ids = (sums: Gathering) => sums.boxes.map(({ probeId }) => probeId);
  expect(ids(after([1, three!], [2, one!], [3, two!]))).toEqual(["box-1", "box-2", "box-3"]);
  expect(after([1, two!, one!], [2, one!])).toEqual(after([1, one!, two!], [2, one!]));
});

test("a slot sums what was heard in it, and the next begins afresh", () => {
  const sums = after([1, said("wall", "wall", 1)], [5, said("box", "box", 3)]);
  expect(sums).toMatchObject({ cocoonN: 2, cocoonSumC: 4, airN: 2, airSumHpa: 10 });
  expect(sums).toMatchObject({ wallN: 1, wallSumC: 1, slotEndMs: START_MS + 5 * MINUTE_MS });
  expect(sums.boxes).toMatchObject([{ n: 1, sumC: 3, sumPct: 73 }]);
  const next = after([4, said("box", "box", 3)], [6]);
  expect(next).toMatchObject({ cocoonN: 1, boxes: [], slotEndMs: START_MS + 10 * MINUTE_MS });
});

test("a wall alone adds to the slot under way, and never begins one", () => {
  const sums = after([1, said("wall", "wall", 1)]);
  const wall = [said("wall", "wall", 3)];
  const within = gatherWall(sums, START_MS + 2 * MINUTE_MS, wall);
  expect(within).toEqual({ ...sums, wallN: 2, wallSumC: 4 });
  expect(gatherWall(sums, START_MS + 6 * MINUTE_MS, wall)).toBe(sums);
  expect(gatherWall(sums, START_MS + 2 * MINUTE_MS, [said("room", "room", 18)])).toBe(sums);
});
