import { expect, test } from "vitest";
import { beginChance } from "./chance.js";
import { placeFaults, WINTER_DAYS } from "./faults.js";
import { drawFridge } from "./fridge.js";
import { openDaily } from "./household.js";
import { beginLife, healthyLife, type Life, moveOn } from "./life.js";
import { TUNING_BY_HAND } from "./tuning-by-hand.js";

const SEED = 900_031;
const HOUR_S = 3_600;
function begin(): Life {
  const fridge = drawFridge(SEED);
  const chance = beginChance(SEED, "calendar");
  const openings = openDaily(chance, fridge.household, WINTER_DAYS);
  return beginLife(fridge, TUNING_BY_HAND, placeFaults(chance, fridge, openings));
}

function liveTo(life: Life, untilS: number): Life {
  while (life.atS < untilS) moveOn(life, untilS);
  return life;
}

test("what becomes of a twin does not touch the life it is of, and it goes on as that does", () => {
  const alone = liveTo(begin(), 30 * HOUR_S);
  const watched = liveTo(begin(), 6 * HOUR_S);
  const twin = liveTo(healthyLife(watched), 30 * HOUR_S);
  expect(watched.atS).toBe(6 * HOUR_S);
  expect(liveTo(watched, 30 * HOUR_S)).toEqual(alone);
  expect(twin).toEqual(alone);
});

test("the door is moved when it is due: each opening lets in warmth, and then it is shut", () => {
  const life = begin();
  for (let i = 0; i + 1 < 12; i += 2) {
    const opened = life.moves[i]!;
    const shut = life.moves[i + 1]!;
    liveTo(life, opened.atS);
    const { upperC } = life.simulation.chamber;
    expect(life.simulation.gapMm).toBe(0);
    liveTo(life, shut.atS);
    expect(life.simulation.gapMm).toBe(opened.gapMm);
    expect(life.simulation.chamber.upperC).toBeGreaterThan(upperC);
  }
});

test("a minute passes each minute, however the door stands", () => {
  const life = begin();
  let minutes = 0;
  while (life.atS < 24 * HOUR_S) if (moveOn(life, 24 * HOUR_S)) minutes++;
  expect(minutes).toBe(24 * 60);
});
