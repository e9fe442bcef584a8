import {
  type Cabinet,
  type Contents,
  type Cooling,
  type Draughts,
  drawCabinet,
  drawContents,
  drawCooling,
  drawDraughts,
} from "./cabinet.js";
import { beginChance } from "./chance.js";
import { drawThermostat, type Thermostat } from "./control.js";
import { type Defrost, drawDefrost } from "./defrost.js";
import { drawHousehold, type Household } from "./household.js";
import { drawRoom, type Room } from "./room.js";
import { drawSensor, type Sensor } from "./sensor.js";

/** One fridge where it stands: all that does not change in a winter. */
export type Fridge = Readonly<{
  seed: number;
  room: Room;
  cabinet: Cabinet;
  contents: Contents;
  cooling: Cooling;
  thermostat: Thermostat;
  defrost: Defrost;
  draughts: Draughts;
  sensor: Sensor;
  household: Household;
}>;

/** Draw a fridge, its room, its sensor and its people. The same seed gives the same fridge. */
export function drawFridge(seed: number): Fridge {
  const chance = beginChance(seed, "fridge");
  // The order decides which draw each gets, and cooling needs room and cabinet.
  const room = drawRoom(chance);
  const cabinet = drawCabinet(chance);
  const contents = drawContents(chance);
  const cooling = drawCooling(chance, cabinet, room.meanC);
  const thermostat = drawThermostat(chance);
  const defrost = drawDefrost(chance);
  const draughts = drawDraughts(chance);
  const sensor = drawSensor(chance);
  const household = drawHousehold(chance);
  return {
    seed,
    room,
    cabinet,
    contents,
    cooling,
    thermostat,
    defrost,
    draughts,
    sensor,
    household,
  };
}
