import type { Span } from "../shared/site.js";
import { MINUTE_MS } from "../shared/time.js";
import { dewPointC } from "./humid-air.js";

/** How long a cold box must stay shut in a warm room, minutes. */
export type WarmUp = Readonly<{ dewPointC: number; aboutMin: number; spanMin: Span }>;

/** A box shut for the walk has no draught, so its lag may be so much longer; our choice. */
const SHUT_FACTOR = 1.5;

/**
 * How long a cold box should be kept shut after it was carried into a warm room: until what is in
 * it has warmed to the room's dew point, below which it would get wet.
 *
 * @param boxC cocoons as they leave the fridge, °C
 * @param roomC °C, from −45 to 60
 * @param roomHumidityPct %, above 0 and up to 100
 * @param lagMs first-order lag of the cocoons behind the air around their box, ms, above 0
 * @returns zero minutes where nothing would condense; null where the box never gets there: the
 *   room is saturated, or colder than the box
 * @throws {RangeError} on a room outside its ranges
 *
 * Source: Newton's law of cooling, solved for time (textbook).
 */
export function warmUpToDewPointMin(
  boxC: number,
  roomC: number,
  roomHumidityPct: number,
  lagMs: Span,
): WarmUp | null {
  const dewC = dewPointC(roomC, roomHumidityPct);
  if (dewC <= boxC) return { dewPointC: dewC, aboutMin: 0, spanMin: { low: 0, high: 0 } };
  if (dewC >= roomC) return null;
  const lags = Math.log((roomC - boxC) / (roomC - dewC));
  const low = (lags * lagMs.low) / MINUTE_MS;
  const high = (lags * lagMs.high * SHUT_FACTOR) / MINUTE_MS;
  return { dewPointC: dewC, aboutMin: Math.sqrt(low * high), spanMin: { low, high } };
}
