import {
  type Chance,
  drawAbout,
  drawBetween,
  drawNormal,
  drawRatio,
  drawUnit,
  within,
} from "./chance.js";
import { vapourGPerM3 } from "./saturation.js";

/** The room a fridge stands in: its mean and how far it strays, by the day, season and weather. */
export type Room = Readonly<{
  meanC: number;
  dailyK: number;
  seasonK: number;
  weatherK: number;
  humidityPct: number;
  humidityWeatherPct: number;
}>;

/** What the air outside the door is like now. */
export type Outside = Readonly<{ temperatureC: number; vapourGPerM3: number }>;

/** The room as it is now. Changed in place. */
export type RoomNow = {
  temperatureC: number;
  vapourGPerM3: number;
  weatherK: number;
  humidityWeatherPct: number;
  /** What cooking has added to the humidity and not yet gone, %. */
  cookingPct: number;
  readonly chance: Chance;
};

/** When people are in: hours of local time, and how far that is ahead of UTC, h. */
export type Evening = Readonly<{ dinnerH: number; utcOffsetH: number }>;

const HOUR_S = 3_600;
const DAY_S = 24 * HOUR_S;
const STEP_S = 60;
// Our choice: how long weather lasts, what a dinner does, and what a room never goes beyond.
const WEATHER_LASTS_S = 1.5 * DAY_S;
const DAMP_WEATHER_LASTS_S = 0.8 * DAY_S;
const COOKS_A_MINUTE = 0.006;
const COOKING_LASTS_S = 2_400;
const COOKING_K_PER_PCT = 0.08;
const WARMEST_HOUR = 17;
const WINTER_DAYS = 180;
const COLDEST_C = 9;
const HUMIDITY_PCT = { low: 15, high: 88 };

/** A kitchen, a utility room or a cool pantry. All distributions are our choice. */
export function drawRoom(chance: Chance): Room {
  return {
    meanC: drawAbout(chance, 19.3, 2.8, 12, 26),
    dailyK: drawRatio(chance, 0.4, 2.5),
    seasonK: drawBetween(chance, 0, 3),
    weatherK: drawRatio(chance, 0.2, 1.2),
    humidityPct: drawAbout(chance, 46, 9, 26, 70),
    humidityWeatherPct: drawBetween(chance, 2, 7),
  };
}

/** The room at its mean. */
export function beginRoom(room: Room, chance: Chance): RoomNow {
  return {
    temperatureC: room.meanC,
    vapourGPerM3: vapourGPerM3(room.meanC, room.humidityPct),
    weatherK: 0,
    humidityWeatherPct: 0,
    cookingPct: 0,
    chance,
  };
}

/** Move the room on by a minute, to `atS` seconds of the winter. */
export function turnRoom(now: RoomNow, room: Room, evening: Evening, atS: number): void {
  const { chance } = now;
  now.weatherK = wander(chance, now.weatherK, room.weatherK, STEP_S / WEATHER_LASTS_S);
  now.humidityWeatherPct = wander(
    chance,
    now.humidityWeatherPct,
    room.humidityWeatherPct,
    STEP_S / DAMP_WEATHER_LASTS_S,
  );
  const localH = (atS / HOUR_S + evening.utcOffsetH) % 24;
  if (Math.abs(localH - evening.dinnerH) < 1 && drawUnit(chance) < COOKS_A_MINUTE)
    now.cookingPct += drawBetween(chance, 2, 12);
  now.cookingPct *= Math.exp(-STEP_S / COOKING_LASTS_S);
  const daily = Math.cos((2 * Math.PI * (localH - WARMEST_HOUR)) / 24);
  const season = 0.6 - Math.sin((Math.PI * atS) / DAY_S / WINTER_DAYS);
  const temperatureC =
    room.meanC +
    now.weatherK +
    room.dailyK * daily +
    room.seasonK * season +
    now.cookingPct * COOKING_K_PER_PCT;
  now.temperatureC = Math.max(COLDEST_C, temperatureC);
  const humidityPct = room.humidityPct + now.humidityWeatherPct + now.cookingPct;
  const { low, high } = HUMIDITY_PCT;
  now.vapourGPerM3 = vapourGPerM3(now.temperatureC, within(humidityPct, low, high));
}

/**
 * One step of a wander about 0 that forgets `share` of itself a step and strays by `deviation`
 * in the long run: the process of Ornstein and Uhlenbeck, 1930, by Euler's steps.
 */
export function wander(chance: Chance, value: number, deviation: number, share: number): number {
  return value - value * share + deviation * Math.sqrt(2 * share) * drawNormal(chance);
}
