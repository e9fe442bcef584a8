import type { Span } from "../../shared/site.js";

/** The room that a fridge stands in. */
export type RoomHabits = Readonly<{
  meanC: number;
  /** Half the daily swing, K; warmest in the afternoon. */
  dailyK: number;
  /** Standard deviation of the weather of days, K. */
  weatherK: number;
  /** Humidity at the mean temperature, %RH; its weather follows in standard deviation. */
  humidityPct: number;
  humidityWeatherPct: number;
}>;

/** What switches the compressor: a sensing bulb with a lag, a dial and a hysteresis. */
export type Thermostat = Readonly<{
  senses: "air" | "wall" | "plate";
  lagS: number;
  /** Middle of the hysteresis, °C of what is sensed. */
  dialC: number;
  hysteresisK: number;
  /** Once off, the compressor rests at least this long. */
  minOffS: number;
}>;

/** Melting the frost off the plate with a heater, the compressor resting. */
export type Defrost = Readonly<{
  /** What the heater gives to plate and frost, and what it gives to the air directly, W. */
  heaterW: number;
  airW: number;
  /** Ends when the plate is this warm, °C, or after `maxS`; then it drips, cooling off. */
  endPlateC: number;
  maxS: number;
  dripS: number;
  everyS: number;
  /** By the clock, or adaptive: `everyS` then counts compressor and open-door time, weighted. */
  by: "clock" | "use";
}>;

/** A vented box of cocoons. Lags are first order. */
type BoxHabits = Readonly<{
  /** Shell and inner air behind the fridge air, and cocoons behind those, s. */
  shellLagS: number;
  cocoonLagS: number;
  shellJPerK: number;
  cocoonJPerK: number;
  volumeM3: number;
  /** Vapour through the vents, and between box air and what paper and cocoons hold, s. */
  ventLagS: number;
  sorptionLagS: number;
}>;

/**
 * A domestic fridge and its surroundings, as lumped masses joined by conductances.
 *
 * Capacities in J/K, conductances in W/K. Values of the fridges here are estimates of our own
 * from size and material, not measurements of any appliance.
 */
export type Fridge = Readonly<{
  name: string;
  volumeM3: number;
  doorWidthM: number;
  doorHeightM: number;
  /** Of the ideal exchange flow through the door; shelves and food are in its way. 0 to 1. */
  dischargeShare: number;
  /** Air that seeps in past the seal with the door shut, m³/s. */
  seepM3PerS: number;
  /** Air and what follows it at once (film on shelves, wrappings). */
  airJPerK: number;
  wallJPerK: number;
  plateJPerK: number;
  foodJPerK: number;
  roomWallWPerK: number;
  airWallWPerK: number;
  airFoodWPerK: number;
  /** With the compressor on (and its fan, where there is one), and with it off. */
  airPlateOnWPerK: number;
  airPlateOffWPerK: number;
  wallPlateWPerK: number;
  /** Cooling power is this times how far the plate is above `coolingFloorC`, in a 20 °C room. */
  coolingWPerK: number;
  coolingFloorC: number;
  /** First-order build-up of cooling after a start. */
  coolingRampS: number;
  /** Share of the food's surface that is bare and wet. 0 to 1. */
  wetShare: number;
  thermostat: Thermostat;
  defrost: Defrost | null;
  box: BoxHabits;
  room: RoomHabits;
  openingsPerDay: number;
  /** How far the door of this fridge stands open when it is left ajar. 0.15 to 1. */
  ajarShare: Span;
  /** Lag of the air probe, s, and how much of the wall's radiation it feels. 0 to 1. */
  probeLagS: number;
  probeWallShare: number;
}>;
