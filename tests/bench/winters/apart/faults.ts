import { type Chance, drawBetween, drawRatio, drawRatioAbout, drawUnit } from "./chance.js";
import type { Fridge } from "./fridge.js";
import type { Opening } from "./household.js";

/** A time at which something is wrong, in seconds of the winter. */
type Times = Readonly<{ startS: number; endS: number }>;

/** A door left open after an opening, its edge so far off its seat. */
type DoorFault = Times & Readonly<{ kind: "door-ajar"; gapMm: number; after: Opening }>;
/** The compressor is dead, or all of the fridge is without power. */
type DeadFault = Times & Readonly<{ kind: "cooling-lost"; powerCut: boolean }>;
/**
 * The thermostat drifts down until the air is at `depthC`, stays there for `holdS`, and is put
 * right; `endS` is when that is at the latest, its aftermath included.
 */
type ColdFault = Times &
  Readonly<{ kind: "over-cooling"; perHourK: number; depthC: number; holdS: number }>;
/** The sensor publishes nothing. */
type SilentFault = Times & Readonly<{ kind: "probe-mute" }>;

export type Fault = DoorFault | DeadFault | ColdFault | SilentFault;

/** A winter's faults in time order, and its openings without those that a left door excludes. */
export type Calendar = Readonly<{ faults: readonly Fault[]; openings: readonly Opening[] }>;

/** How long a winter is. */
export const WINTER_DAYS = 180;
const HOUR_S = 3_600;
const DAY_S = 24 * HOUR_S;

/** How often each happens in a winter; over-cooling once. Our choice. */
const DOORS = 12;
const DEAD = 2;
const SILENT = 3;
/** No door is left open before this day, when a judge has come to know the fridge; our choice. */
const FIRST_DOOR_DAY = 5;
// Our choice: how early and late anything happens, and how many times a place is sought.
const FIRST_S = 2 * DAY_S;
const LAST_S = WINTER_DAYS * DAY_S - 6 * HOUR_S;
/** End to start: more than a day. */
const APART_S = DAY_S + 60;
const TRIES = 20_000;
/** A fridge put right is left alone for this long, h; our choice. */
const AFTERMATH_H = 14;
/** After a left door was shut nobody comes for a minute; our choice. */
const AFTER_DOOR_S = 60;

/** Place a winter's eighteen faults. All distributions are our choice. */
export function placeFaults(
  chance: Chance,
  fridge: Fridge,
  openings: readonly Opening[],
): Calendar {
  const placed: Fault[] = [];
  const place = (draw: () => Fault | null): void => {
    for (let i = 0; i < TRIES; i++) {
      const fault = draw();
      if (fault === null || !isFree(placed, fault)) continue;
      placed.push(fault);
      return;
    }
    throw new RangeError(`no room left in the winter after ${placed.length} faults`);
  };
  place(() => drawCold(chance, fridge.thermostat.meanC));
  for (let i = 0; i < DEAD; i++) place(() => drawDead(chance));
  for (let i = 0; i < DOORS; i++)
    place(() => drawDoor(chance, fridge.household.ajarMedianMm, openings));
  for (let i = 0; i < SILENT; i++) place(() => drawSilent(chance));
  const faults = placed.sort((a, b) => a.startS - b.startS);
  return { faults, openings: openings.filter((opening) => happens(opening, faults)) };
}

function isFree(placed: readonly Fault[], { startS, endS }: Fault): boolean {
  const inside = startS > FIRST_S && endS < LAST_S;
  return inside && placed.every((p) => startS > p.endS + APART_S || endS < p.startS - APART_S);
}

/** Whoever came to a door left open would shut it, so nobody does. */
function happens(opening: Opening, faults: readonly Fault[]): boolean {
  return faults.every(
    (fault) =>
      fault.kind !== "door-ajar" ||
      opening === fault.after ||
      opening.startS + opening.lengthS < fault.startS ||
      opening.startS > fault.endS + AFTER_DOOR_S,
  );
}

function drawCold(chance: Chance, usualC: number): ColdFault {
  const perHourK = drawBetween(chance, 0.1, 0.3);
  const depthC = -drawBetween(chance, 3.1, 4.6);
  const holdS = drawBetween(chance, 0.3, 4) * HOUR_S;
  const driftS = ((usualC - depthC) / perHourK) * HOUR_S;
  const startS = Math.round(drawBetween(chance, 3, 172) * DAY_S);
  const endS = startS + driftS + holdS + AFTERMATH_H * HOUR_S;
  return { kind: "over-cooling", startS, endS, perHourK, depthC, holdS };
}

function drawDead(chance: Chance): DeadFault {
  const startS = Math.round(drawBetween(chance, 3, 178) * DAY_S);
  const endS = startS + Math.round(drawBetween(chance, 8, 14) * HOUR_S);
  return { kind: "cooling-lost", startS, endS, powerCut: drawUnit(chance) < 0.5 };
}

/** From ten minutes to three hours, a slit or as wide as it was swung. */
function drawDoor(
  chance: Chance,
  medianMm: number,
  openings: readonly Opening[],
): DoorFault | null {
  const after = openings[Math.floor(drawUnit(chance) * openings.length)];
  if (after === undefined || after.startS < FIRST_DOOR_DAY * DAY_S) return null;
  const endS = after.startS + Math.round(drawRatio(chance, 10.1, 178) * 60);
  const gapMm = Math.min(drawRatioAbout(chance, medianMm, 0.8, 8, 500), after.swingMm);
  return { kind: "door-ajar", startS: after.startS, endS, gapMm, after };
}

function drawSilent(chance: Chance): SilentFault {
  const startS = Math.round(drawBetween(chance, 2.2, 179) * DAY_S);
  return {
    kind: "probe-mute",
    startS,
    endS: startS + Math.round(drawBetween(chance, 2, 6) * HOUR_S),
  };
}
