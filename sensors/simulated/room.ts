import type { RoomHabits } from "./fridge.js";
import { saturationOverWaterPa, vapourDensity } from "./moist-air.js";
import { drawNormal, type Seeded } from "./seeded.js";

const DAY_S = 86_400;
/** How long a spell of weather lasts, s: its autocorrelation time, our choice. */
const WEATHER_S = 2 * DAY_S;
/** Hour of the day at which the room is warmest; common practice, no source. */
const WARMEST_HOUR = 15;

/** The room now. `weather` and `dampness` are standard normal, slowly wandering. */
export type RoomState = {
  temperatureC: number;
  vapourKgPerM3: number;
  weather: number;
  dampness: number;
};

/** A room at its mean. */
export function beginRoom(habits: RoomHabits, random: Seeded): RoomState {
  const room = {
    temperatureC: habits.meanC,
    vapourKgPerM3: 0,
    weather: drawNormal(random),
    dampness: drawNormal(random),
  };
  turnRoom(room, habits, random, 0, 1, 0);
  return room;
}

/**
 * Move a room on to `atMs`, `stepS` seconds after it was last turned.
 *
 * Temperature: mean, daily sine, weather (an Ornstein–Uhlenbeck process, stepped exactly) and
 * `riseK`. Vapour is set by the humidity at the undisturbed temperature, so that warming the
 * room dries it; never above 95 %RH.
 */
export function turnRoom(
  room: RoomState,
  habits: RoomHabits,
  random: Seeded,
  atMs: number,
  stepS: number,
  riseK: number,
): void {
  const keep = Math.exp(-stepS / WEATHER_S);
  const spread = Math.sqrt(1 - keep * keep);
  room.weather = keep * room.weather + spread * drawNormal(random);
  room.dampness = keep * room.dampness + spread * drawNormal(random);

  const hour = (atMs / 3_600_000) % 24;
  const daily = Math.cos((2 * Math.PI * (hour - WARMEST_HOUR)) / 24);
  const calmC = habits.meanC + habits.weatherK * room.weather;
  room.temperatureC = calmC + habits.dailyK * daily + riseK;

  const wantedPct = habits.humidityPct + habits.humidityWeatherPct * room.dampness;
  const humidityPct = Math.min(95, Math.max(15, wantedPct));
  const density = vapourDensity((humidityPct / 100) * saturationOverWaterPa(calmC), calmC);
  const most = 0.95 * vapourDensity(saturationOverWaterPa(room.temperatureC), room.temperatureC);
  room.vapourKgPerM3 = Math.min(density, most);
}
