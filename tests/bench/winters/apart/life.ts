import { flushAir, putIn } from "./chamber.js";
import { beginChance, type Chance, drawBetween, drawRatio, drawUnit } from "./chance.js";
import type { Calendar } from "./faults.js";
import type { Fridge } from "./fridge.js";
import { beginRoom, type RoomNow, turnRoom } from "./room.js";
import { beginSimulation, healthyTwin, type Simulation, stepSimulation } from "./simulation.js";
import type { Tuning } from "./tuning.js";

/** The door is moved to so wide a gap; `byHand` where somebody comes and opens it. */
type DoorMove = Readonly<{ atS: number; gapMm: number; byHand: boolean }>;

/** A fridge with its people and its weather, at one moment of the winter. Changed in place. */
export type Life = {
  readonly simulation: Simulation;
  readonly room: RoomNow;
  readonly moves: readonly DoorMove[];
  readonly groceries: Chance;
  atS: number;
  nextMove: number;
  openedAtS: number;
  nextMinuteS: number;
};

const DAY_S = 86_400;
const STEP_S = 5;
const OPEN_STEP_S = 2.5;
/** In the first two minutes after somebody came steps are shorter still. */
const JUST_OPENED_S = 120;
const JUST_OPENED_STEP_S = 1;

/** The winter's start, after a day in a room as it is then with nobody at the door. */
export function beginLife(fridge: Fridge, tuning: Tuning, calendar: Calendar): Life {
  const room = beginRoom(fridge.room, beginChance(fridge.seed, "weather"));
  const simulation = beginSimulation(fridge, tuning);
  turnMinute(room, fridge, 0);
  for (let atS = 0; atS < DAY_S; atS += STEP_S) stepSimulation(simulation, room, STEP_S);
  return {
    simulation,
    room,
    moves: movesOf(calendar),
    groceries: beginChance(fridge.seed, "groceries"),
    atS: 0,
    nextMove: 0,
    openedAtS: Number.NEGATIVE_INFINITY,
    nextMinuteS: 60,
  };
}

/** The same life with nothing wrong from now on; it goes on by itself. */
export function healthyLife(life: Life): Life {
  const { simulation, room, groceries } = life;
  return {
    ...life,
    simulation: healthyTwin(simulation),
    room: { ...room, chance: { ...room.chance } },
    groceries: { ...groceries },
  };
}

/** Move on by one step, not beyond `untilS`; says whether a minute has passed. */
export function moveOn(life: Life, untilS: number): boolean {
  moveDoor(life);
  const { simulation, room } = life;
  const nextMoveS = life.moves[life.nextMove]?.atS ?? Number.POSITIVE_INFINITY;
  const nextS = Math.min(untilS, life.nextMinuteS, nextMoveS);
  const stepS = Math.min(longestStepS(life), nextS - life.atS);
  if (stepS > 0) {
    stepSimulation(simulation, room, stepS);
    life.atS += stepS;
  }
  if (life.atS < life.nextMinuteS) return false;
  life.nextMinuteS += 60;
  turnMinute(room, simulation.fridge, life.atS);
  return true;
}

function longestStepS({ simulation, atS, openedAtS }: Life): number {
  if (simulation.gapMm <= 0) return STEP_S;
  return atS - openedAtS < JUST_OPENED_S ? JUST_OPENED_STEP_S : OPEN_STEP_S;
}

function turnMinute(room: RoomNow, { room: usual, household }: Fridge, atS: number): void {
  const { dinner, utcOffsetH } = household;
  turnRoom(room, usual, { dinnerH: dinner.atH, utcOffsetH }, atS);
}

/** Move the door as is due by now. How much air and food comes in with it is our choice. */
function moveDoor(life: Life): void {
  const { simulation, room, moves, groceries } = life;
  const { chamber, fridge } = simulation;
  for (let move = moves[life.nextMove]; move && move.atS <= life.atS; move = moves[life.nextMove]) {
    life.nextMove++;
    simulation.gapMm = move.gapMm;
    if (!move.byHand) continue;
    life.openedAtS = life.atS;
    flushAir(chamber, room, drawBetween(groceries, 0.05, 0.3));
    if (drawUnit(groceries) >= fridge.household.freshShare) continue;
    const foodKg = drawRatio(groceries, 0.1, 1.2);
    putIn(chamber, foodKg, drawBetween(groceries, 8, room.temperatureC));
  }
}

/** Every move of the door in time order. A door left open falls back to its gap, then shut. */
function movesOf({ openings, faults }: Calendar): DoorMove[] {
  const moves = openings.flatMap((opening): DoorMove[] => {
    const { startS, lengthS, swingMm } = opening;
    const left = faults.find((fault) => fault.kind === "door-ajar" && fault.after === opening);
    const opened = { atS: startS, gapMm: swingMm, byHand: true };
    const shut = { atS: left?.endS ?? startS + lengthS, gapMm: 0, byHand: false };
    if (left?.kind !== "door-ajar") return [opened, shut];
    return [opened, { atS: startS + lengthS, gapMm: left.gapMm, byHand: false }, shut];
  });
  return moves.sort((a, b) => a.atS - b.atS);
}
