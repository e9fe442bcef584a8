import { type WarmUp, warmUpToDewPointMin } from "../../../rules/condensation.js";
import type { ChamberFigures } from "../../../rules/season.js";
import { KnownError } from "../../../shared/errors.js";
import type { Reading } from "../../../shared/reading.js";
import type { Site } from "../../../shared/site.js";
import { type LetterUnit, toCelsius } from "../../../shared/units.js";
import { limitWords, numberWords, temperatureWords } from "../../letters/temperature-words.js";
import { durationWords } from "../../letters/time-words.js";
import type { Store } from "../../store/store.js";

/** The room that a cold box is carried into. */
type Room = Readonly<{ roomC: number; humidityPct: number }>;

/** How long a box of one chamber must stay shut in the room; `warmUp` is null where it never gets there. */
export type Carry = Readonly<{
  chamber: string;
  cocoonC: number;
  room: Room;
  warmUp: WarmUp | null;
}>;

/**
 * Work out how long a cold box must stay shut in a warm room, for each chamber whose cocoons are
 * known.
 *
 * @param asked "20,50" in the keeper's unit and %RH, or true for what a probe in the room measures
 * @throws {KnownError} WRONG_USE where the room is not known
 */
export function workOutCarry(
  asked: string | true,
  site: Site,
  store: Pick<Store, "readings">,
  chambers: readonly (ChamberFigures & Readonly<{ cocoonC: number | null }>)[],
  unit: LetterUnit,
): Carry[] {
  const named = asked === true ? null : readRoom(asked, unit);
  const carries = chambers.flatMap(({ chamberId, cocoonC, cocoonLag }): Carry[] => {
    const room = named ?? roomOf(chamberId, site, store);
    if (room === null || cocoonC === null || cocoonLag === null) return [];
    const { roomC, humidityPct } = room;
    const warmUp = warmUpToDewPointMin(cocoonC, roomC, humidityPct, cocoonLag.spanMs);
    return [{ chamber: chamberId, cocoonC, room, warmUp }];
  });
  if (carries.length === 0 && named === null)
    throw new KnownError(
      "WRONG_USE",
      `carry without a room, expected one such as ${EXAMPLE[unit]}, or a probe with place = "room" that measures humidity`,
    );
  return carries;
}

const EXAMPLE: Readonly<Record<LetterUnit, string>> = { C: "20,50", F: "68,50" };

function readRoom(text: string, unit: LetterUnit): Room {
  const [warmth, humidityPct, ...more] = text
    .split(/[,/]/)
    .map((part) => Number(part.trim() || "x"));
  const roomC = toCelsius(warmth!, unit);
  const isRoom = roomC >= -20 && roomC <= 50 && humidityPct! > 0 && humidityPct! <= 100;
  if (!isRoom || more.length > 0)
    throw new KnownError(
      "WRONG_USE",
      `carry "${text}", expected the room's °${unit} and %RH, for example ${EXAMPLE[unit]}`,
    );
  return { roomC, humidityPct: humidityPct! };
}

/** What a probe in the room of a chamber said last. */
function roomOf(chamberId: string, site: Site, store: Pick<Store, "readings">): Room | null {
  const readings = site.probes
    .filter(({ place, chamberId: of }) => place === "room" && of === chamberId)
    .map(({ id }) => store.readings.latest(id))
    .filter((reading): reading is Reading => reading !== null);
  for (const { temperatureC, humidityPct } of readings)
    if (temperatureC !== null && humidityPct !== null && humidityPct > 0)
      return { roomC: temperatureC, humidityPct };
  return null;
}

/** What to do, a line for each chamber. */
export function carryLines(carries: readonly Carry[], unit: LetterUnit): string[] {
  if (carries.length === 0)
    return ["Carrying a box: the cocoons are not known, so nothing can be said."];
  return carries.map(({ chamber, room, warmUp }) => {
    const where = `${temperatureWords(room.roomC, unit)} and ${numberWords(room.humidityPct, 0)} %RH`;
    const from = `A box from ${chamber} in a room of ${where}`;
    if (warmUp === null)
      return `${from} gets wet however long it is kept shut: do the work where it is cold.`;
    if (warmUp.aboutMin === 0) return `${from} stays dry: it may be opened at once.`;
    const { dewPointC, aboutMin, spanMin } = warmUp;
    const about = durationWords(aboutMin * 60_000);
    const span = `${durationWords(spanMin.low * 60_000)} to ${durationWords(spanMin.high * 60_000)}`;
    return `${from}: keep it shut for about ${about} (${span}), until it has warmed to the dew point of ${limitWords(dewPointC, unit)}. Warm cocoons wake; take them no longer than you must.`;
  });
}

/** The same for programs. */
export function carryJson(carries: readonly Carry[]) {
  return carries.map(({ chamber, cocoonC, room, warmUp }) => ({
    chamber,
    cocoonC,
    ...room,
    dewPointC: warmUp?.dewPointC ?? null,
    aboutMin: warmUp?.aboutMin ?? null,
    lowMin: warmUp?.spanMin.low ?? null,
    highMin: warmUp?.spanMin.high ?? null,
  }));
}
