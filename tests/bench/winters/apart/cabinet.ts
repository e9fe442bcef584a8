import {
  type Chance,
  drawAbout,
  drawBetween,
  drawRatio,
  drawRatioAbout,
  drawUnit,
  within,
} from "./chance.js";

/** The box itself. */
export type Cabinet = Readonly<{
  volumeL: number;
  heightM: number;
  doorWidthM: number;
  /** Inner surface, door included. */
  wallM2: number;
  /** Through walls and door, from liner to room. */
  leakWPerK: number;
  /** 0 is a plate without a fan, 1 a strong fan. */
  fanStrength: number;
  /** From still air to liner. */
  linerWPerM2K: number;
  linerKJPerK: number;
}>;

/** What stands in it. */
export type Contents = Readonly<{
  shelvesKJPerK: number;
  shelvesWPerK: number;
  storesKg: number;
  storesWPerK: number;
  cocoonKg: number;
  /** Cocoons and their box. */
  cocoonKJPerK: number;
  /** How long cocoons take behind the air. */
  cocoonLagH: number;
}>;

/** Compressor and evaporator, the plate. */
export type Cooling = Readonly<{
  /** Share of the time that the compressor runs in a room at its mean. */
  runShare: number;
  plateKJPerK: number;
  /** How much of the plate's surface is in the upper half. */
  plateUpperShare: number;
  /** Of the heat that the plate takes up with the fan at work, how much it does without. */
  plateStillShare: number;
  /** Heat taken from a plate at `plateRunsAtC`. */
  coolingW: number;
  plateRunsAtC: number;
  plateWPerK: number;
}>;

/** How air moves inside and through the door, and what is damp in there. */
export type Draughts = Readonly<{
  /** Damp stores and a dish of water, as the air a second that they would saturate. */
  dampM3PerS: number;
  mixingWPerK: number;
  fanMixingWPerK: number;
  /** How much of the opening things on shelves leave free. */
  freeShare: number;
  /** The door's switch, for lamp and fan, turns at this gap. */
  switchMm: number;
  lampW: number;
  fanStopsWithDoor: boolean;
}>;

/** A box of 80 to 380 l. Distributions are our choice. */
export function drawCabinet(chance: Chance): Cabinet {
  const volumeL = drawRatioAbout(chance, 190, 0.4, 80, 380);
  const tallM = 0.8 * Math.cbrt(volumeL / 150) * drawBetween(chance, 0.8, 1.3);
  const doorWidthM = drawAbout(chance, 0.53, 0.05, 0.42, 0.65);
  // A cube has 6 times the two-thirds power of its volume, anything longer more.
  const wallM2 = 6.6 * (volumeL / 1_000) ** (2 / 3);
  return {
    volumeL,
    heightM: within(tallM, 0.45, 1.5),
    doorWidthM,
    wallM2,
    leakWPerK: wallM2 * drawRatioAbout(chance, 0.52, 0.25, 0.3, 0.95),
    fanStrength: drawUnit(chance),
    linerWPerM2K: drawBetween(chance, 3.2, 5.2),
    linerKJPerK: wallM2 * drawBetween(chance, 1.8, 3),
  };
}

/** Half a kilogram to thirty of stores and a box of cocoons. Distributions are our choice. */
export function drawContents(chance: Chance): Contents {
  const shelvesKJPerK = drawRatioAbout(chance, 6, 0.4, 2.5, 16);
  const shelvesWPerK = drawBetween(chance, 2.5, 6);
  const storesKg = drawRatioAbout(chance, 5, 0.9, 0.5, 30);
  const storesWPerK = within(0.45 * storesKg ** 0.67 * drawBetween(chance, 1.2, 2.6), 0.4, 12);
  const cocoonKg = drawRatioAbout(chance, 0.35, 0.9, 0.04, 3);
  return {
    shelvesKJPerK,
    shelvesWPerK,
    storesKg,
    storesWPerK,
    cocoonKg,
    cocoonKJPerK: cocoonKg * 2.6 + drawBetween(chance, 0.2, 1.2),
    cocoonLagH: drawRatioAbout(chance, 0.9, 0.5, 0.25, 3),
  };
}

/** Strong enough for a quarter to half of the time at work. Distributions are our choice. */
export function drawCooling(chance: Chance, cabinet: Cabinet, roomC: number): Cooling {
  const runShare = drawBetween(chance, 0.24, 0.48);
  const colderK = drawBetween(chance, 9, 21);
  const usualC = 2;
  const openingsW = 5;
  const coolingW = (cabinet.leakWPerK * (roomC - usualC) + openingsW) / runShare;
  return {
    runShare,
    plateKJPerK: drawRatioAbout(chance, 2.6, 0.35, 1.2, 6),
    plateUpperShare: drawBetween(chance, 0.35, 0.8),
    plateStillShare: drawBetween(chance, 0.45, 0.9),
    coolingW,
    plateRunsAtC: usualC - colderK,
    plateWPerK: coolingW / colderK,
  };
}

/** Distributions are our choice. */
export function drawDraughts(chance: Chance): Draughts {
  return {
    dampM3PerS: drawRatioAbout(chance, 0.00016, 0.8, 0.00002, 0.0012),
    mixingWPerK: drawRatio(chance, 0.6, 2.5),
    fanMixingWPerK: drawBetween(chance, 8, 35),
    freeShare: drawBetween(chance, 0.5, 1),
    switchMm: drawBetween(chance, 12, 45),
    lampW: drawRatio(chance, 1, 15),
    fanStopsWithDoor: drawUnit(chance) < 0.75,
  };
}
