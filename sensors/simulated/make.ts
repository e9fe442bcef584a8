import type { Span } from "../../shared/site.js";
import { watchFridge } from "./behaviour.js";
import { DOOR_WEIGHT } from "./control.js";
import { tuneFridge } from "./dial.js";
import type { Defrost, Fridge, RoomHabits, Thermostat } from "./fridge.js";
import { sizeFridge } from "./geometry.js";
import { MEAN_OPENING_S } from "./habits.js";

/** A fridge in the words of a shop and a keeper; `makeFridge` turns it into physics. */
export type Sketch = Readonly<{
  name: string;
  volumeM3: number;
  foodKg: number;
  insulationWPerM2K: number;
  /** A fan blows over the coil while the compressor runs. */
  fan: boolean;
  /** Cooling power at a plate of -12 °C, W. */
  coolingW: number;
  plateJPerK: number;
  senses: Thermostat["senses"];
  minOffS: number;
  defrost: Pick<Defrost, "everyS" | "by" | "heaterW" | "endPlateC"> | null;
  /** What the keeper's dial, the hysteresis and the heater's leak are to bring about. */
  meanC: number;
  halfSwingK: number;
  defrostRiseK: number;
  dischargeShare: number;
  wetShare: number;
  cocoonLagMin: number;
  room: RoomHabits;
  openingsPerDay: number;
  ajarShare: Span;
  probeLagS: number;
}>;

/** A fridge's coil hardly gets colder, however long it runs; our estimate. */
const COOLING_FLOOR_C = -22;
const COOLING_AT_C = -12;

/** A vented box of some 250 g of cocoons in paper; our estimate. */
const BOX = {
  shellLagS: 600,
  shellJPerK: 350,
  cocoonJPerK: 700,
  volumeM3: 0.002,
  ventLagS: 1_200,
  sorptionLagS: 2_400,
};
/** A defrost's ends, our choice, and where the search for its warmth in the air begins, W. */
const DRIPPING = { airW: 35, maxS: 1_500, dripS: 180 };
/** Where each kind of thermostat's tuning begins. */
const BULBS = {
  air: { lagS: 150, dialC: 2.2, hysteresisK: 2 },
  wall: { lagS: 60, dialC: 2.2, hysteresisK: 2 },
  plate: { lagS: 60, dialC: -4, hysteresisK: 12 },
} as const;

/** Build and tune a fridge. Takes about a tenth of a second. */
export function makeFridge(sketch: Sketch): Fridge {
  const filmWPerM2K = sketch.fan ? 7 : 4.5;
  const sized = sizeFridge({ ...sketch, filmWPerM2K });
  const coil = sketch.fan ? 14 : 5;
  const size = (sketch.volumeM3 / 0.15) ** (2 / 3);
  const raw: Fridge = {
    ...sized,
    name: sketch.name,
    dischargeShare: sketch.dischargeShare,
    seepM3PerS: 0.00003 * size,
    plateJPerK: sketch.plateJPerK,
    airPlateOnWPerK: coil * size,
    airPlateOffWPerK: sketch.fan ? 1.5 * size : coil * size,
    wallPlateWPerK: sketch.fan ? 0.3 * size : 1.5 * size,
    coolingWPerK: sketch.coolingW / (COOLING_AT_C - COOLING_FLOOR_C),
    coolingFloorC: COOLING_FLOOR_C,
    coolingRampS: 75,
    wetShare: sketch.wetShare,
    thermostat: { ...BULBS[sketch.senses], senses: sketch.senses, minOffS: sketch.minOffS },
    defrost: sketch.defrost && { ...DRIPPING, ...sketch.defrost },
    box: { ...BOX, cocoonLagS: sketch.cocoonLagMin * 60 },
    room: sketch.room,
    openingsPerDay: sketch.openingsPerDay,
    ajarShare: sketch.ajarShare,
    probeLagS: sketch.probeLagS,
    probeWallShare: 0.15,
  };
  return spaceDefrosts(tuneFridge(raw, sketch), sketch);
}

/** An adaptive timer counts use: set it so that defrosts come about `everyS` apart. */
function spaceDefrosts(fridge: Fridge, sketch: Sketch): Fridge {
  const { defrost } = fridge;
  if (defrost === null || defrost.by === "clock") return fridge;
  const doorS = sketch.openingsPerDay * MEAN_OPENING_S * DOOR_WEIGHT;
  const useShare = watchFridge(fridge).runShare + doorS / 86_400;
  return { ...fridge, defrost: { ...defrost, everyS: defrost.everyS * useShare } };
}
