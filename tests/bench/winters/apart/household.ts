import {
  type Chance,
  drawAbout,
  drawBetween,
  drawCount,
  drawNormal,
  drawRatio,
  drawRatioAbout,
  drawUnit,
  within,
} from "./chance.js";

/** A time of day at which the fridge is visited: local hours, how far they stray, how often. */
type Meal = Readonly<{ atH: number; straysH: number; weight: number }>;

/** People and their ways. */
export type Household = Readonly<{
  openingsPerDay: number;
  openMedianS: number;
  /** How far openings differ, as the deviation of the length's logarithm. */
  openDeviation: number;
  /** Share of visits that are several openings, and of those the share that are three. */
  severalShare: number;
  thriceShare: number;
  utcOffsetH: number;
  breakfast: Meal;
  lunch: Meal;
  dinner: Meal;
  between: Meal;
  weekendLaterH: number;
  /** How far the door is usually swung open. */
  swingMm: number;
  awayDays: number;
  /** Share of openings at which something warm is put in. */
  freshShare: number;
  /** How far a door left open usually stands here. */
  ajarMedianMm: number;
}>;

/** An ordinary opening, in seconds of the winter. */
export type Opening = Readonly<{ startS: number; lengthS: number; swingMm: number }>;

const HOUR_S = 3_600;
const DAY_S = 24 * HOUR_S;
/** Nobody comes so near a winter's ends, nor sooner after the last opening; our choice. */
const CLEAR_OF_ENDS_S = 600;
const APART_S = 8;

/** Six openings a day, more or less. Distributions are our choice. */
export function drawHousehold(chance: Chance): Household {
  return {
    openingsPerDay: drawBetween(chance, 4.8, 7.2),
    openMedianS: drawRatioAbout(chance, 18, 0.35, 9, 40),
    openDeviation: drawBetween(chance, 0.45, 0.85),
    severalShare: drawBetween(chance, 0.08, 0.4),
    thriceShare: drawBetween(chance, 0.1, 0.5),
    utcOffsetH: Math.round(drawBetween(chance, -8.4, 2.4)),
    breakfast: {
      atH: drawAbout(chance, 7.3, 0.8, 5, 10),
      straysH: drawRatio(chance, 0.25, 1.2),
      weight: drawBetween(chance, 0.5, 1.5),
    },
    lunch: {
      atH: drawAbout(chance, 12.6, 0.7, 11, 14.5),
      straysH: drawRatio(chance, 0.25, 1.2),
      weight: drawBetween(chance, 0.1, 1.3),
    },
    dinner: {
      atH: drawAbout(chance, 18.8, 0.9, 16.5, 21.5),
      straysH: drawRatio(chance, 0.3, 1.3),
      weight: drawBetween(chance, 0.8, 2),
    },
    between: {
      atH: drawAbout(chance, 15.5, 2.5, 9, 23),
      straysH: drawBetween(chance, 2, 5),
      weight: drawBetween(chance, 0.2, 1.6),
    },
    weekendLaterH: drawBetween(chance, 0, 2),
    swingMm: drawRatioAbout(chance, 420, 0.3, 180, 650),
    awayDays: Math.floor(drawBetween(chance, 0, 7)),
    freshShare: drawBetween(chance, 0, 0.15),
    ajarMedianMm: drawRatioAbout(chance, 60, 0.45, 22, 170),
  };
}

/** The openings of so many days, in time order, none while another lasts. */
export function openDaily(chance: Chance, household: Household, days: number): Opening[] {
  const { awayDays, openingsPerDay, severalShare, thriceShare } = household;
  const awayFrom = Math.floor(drawBetween(chance, 20, 160));
  const openingsAVisit = 1 + severalShare * (1 + thriceShare);
  // Those at home open so much more often that the winter's mean is kept.
  const visitsPerDay = ((openingsPerDay / openingsAVisit) * days) / (days - awayDays);
  const drawn: Opening[] = [];
  for (let day = 0; day < days; day++) {
    if (day >= awayFrom && day < awayFrom + awayDays) continue;
    const visits = drawCount(chance, visitsPerDay);
    for (let i = 0; i < visits; i++) drawn.push(...drawVisit(chance, household, day));
  }
  const endS = days * DAY_S;
  const inside = drawn
    .sort((a, b) => a.startS - b.startS)
    .filter((o) => o.startS > CLEAR_OF_ENDS_S && o.startS + o.lengthS < endS - CLEAR_OF_ENDS_S);
  return oneAfterAnother(inside);
}

/** One opening, or two or three with some time between. */
function drawVisit(chance: Chance, household: Household, day: number): Opening[] {
  let atS = day * DAY_S + drawHour(chance, household, day) * HOUR_S;
  const several = drawUnit(chance) < household.severalShare;
  const count = !several ? 1 : drawUnit(chance) < household.thriceShare ? 3 : 2;
  return Array.from({ length: count }, () => {
    const startS = Math.round(atS);
    const lengthS = drawRatioAbout(chance, household.openMedianS, household.openDeviation, 5, 90);
    const swingMm = household.swingMm * Math.exp(0.3 * drawNormal(chance));
    const opening = {
      startS,
      lengthS: Math.round(lengthS),
      swingMm: within(swingMm, 120, 700),
    };
    atS = opening.startS + opening.lengthS + drawRatio(chance, 15, 400);
    return opening;
  });
}

/** The hour of a visit, UTC from 0 to 24. The first day counts as a Monday; our choice. */
function drawHour(chance: Chance, household: Household, day: number): number {
  const { breakfast, lunch, dinner, between, weekendLaterH, utcOffsetH } = household;
  const meals = [breakfast, lunch, dinner, between];
  let at = drawUnit(chance) * meals.reduce((sum, { weight }) => sum + weight, 0);
  const chosen = meals.find(({ weight }) => {
    if (at < weight) return true;
    at -= weight;
    return false;
  });
  const meal = chosen ?? breakfast;
  const laterH = day % 7 >= 5 && meal === breakfast ? weekendLaterH : 0;
  const localH = meal.atH + meal.straysH * drawNormal(chance) + laterH;
  return (((localH - utcOffsetH) % 24) + 24) % 24;
}

function oneAfterAnother(openings: readonly Opening[]): Opening[] {
  let freeS = Number.NEGATIVE_INFINITY;
  return openings.map((opening) => {
    const startS = Math.max(opening.startS, freeS);
    freeS = startS + opening.lengthS + APART_S;
    return { ...opening, startS };
  });
}
