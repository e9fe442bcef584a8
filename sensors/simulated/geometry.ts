import type { Fridge } from "./fridge.js";
import { AIR_J_PER_M3_K } from "./moist-air.js";

/** What follows from how big a fridge is and how it is built. */
export type Build = Readonly<{
  volumeM3: number;
  /** Through the insulation, W/(m²·K): about 0.35 for a good new one, 0.9 for a tired old one. */
  insulationWPerM2K: number;
  /** How well moving air couples to surfaces: about 4 still, 9 with a fan, W/(m²·K). */
  filmWPerM2K: number;
  /** Water-equivalent mass of food, kg. */
  foodKg: number;
}>;

type Sized = Pick<
  Fridge,
  | "volumeM3"
  | "doorWidthM"
  | "doorHeightM"
  | "airJPerK"
  | "wallJPerK"
  | "foodJPerK"
  | "roomWallWPerK"
  | "airWallWPerK"
  | "airFoodWPerK"
>;

/** Inner surface of an upright box, m² per m^(2/3): a cube has 6, a tall box more. */
const SURFACE_SHAPE = 6.6;
/** Plastic liner of 1.5 mm and the insulation that swings with it, J/(m²·K); our estimate. */
const LINER_J_PER_M2_K = 3_800;
/** Specific heat of moist food, J/(kg·K); from memory (fruit and vegetables, 3.5 to 4). */
const FOOD_J_PER_KG_K = 3_700;
/** Bare surface of a kilogram of packed food, m²; our estimate. */
const FOOD_M2_PER_KG = 0.035;
/** Share of the volume's heat that shelves' film and wrappings add to the air's own. */
const LIGHT_THINGS = 1.5;

/** Sizes, capacities and conductances of an upright fridge of this build. */
export function sizeFridge(build: Build): Sized {
  const surfaceM2 = SURFACE_SHAPE * build.volumeM3 ** (2 / 3);
  const doorHeightM = (2 * build.volumeM3) ** (1 / 3);
  return {
    volumeM3: build.volumeM3,
    doorHeightM,
    doorWidthM: 0.72 * doorHeightM,
    airJPerK: LIGHT_THINGS * AIR_J_PER_M3_K * build.volumeM3,
    wallJPerK: LINER_J_PER_M2_K * surfaceM2,
    foodJPerK: FOOD_J_PER_KG_K * build.foodKg,
    roomWallWPerK: build.insulationWPerM2K * surfaceM2,
    airWallWPerK: build.filmWPerM2K * surfaceM2,
    airFoodWPerK: build.filmWPerM2K * FOOD_M2_PER_KG * build.foodKg,
  };
}
