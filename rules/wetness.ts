import { HOUR_MS } from "../shared/time.js";
import {
  absoluteHumidityGPerM3,
  saturationPressureHpa,
  saturationPressureOverIceHpa,
} from "./humid-air.js";

/** Water that lies on a surface, and how long it has; only time that was seen counts. */
export type Wetness = Readonly<{
  atMs: number;
  /** How fast water comes (above 0) or goes (below 0) at `atMs`, g/m² per hour. */
  flowGPerM2H: number;
  /** g/m², which is as many µm of water; dew and frost alike. 0 to `FILM_MOST_G_PER_M2`. */
  filmGPerM2: number;
  /** Time with any film at all, ms. */
  wetMs: number;
}>;

/**
 * How fast air brings heat to a surface inside a fridge, W/(m²·K). Textbook range for gases that
 * move by their own weight: 2 to 25; our choice is near its calm end.
 */
const HEAT_W_PER_M2_K = 3;
/** Density of air times its specific heat at 2 °C and sea level, J/(m³·K): 1.283 × 1006. */
const AIR_J_PER_M3_K = 1_291;
/** Lewis number of moist air to the power 2/3 (Chilton and Colburn's analogy); from memory. */
const LEWIS_FACTOR = 0.9;
const SECONDS_PER_HOUR = 3_600;
/** Speed at which vapour reaches the surface, m/h, by the analogy of heat and mass. */
const VAPOUR_M_PER_H = (SECONDS_PER_HOUR * HEAT_W_PER_M2_K) / (AIR_J_PER_M3_K * LEWIS_FACTOR);
/** What is more runs off, g/m²: a fifth of a millimetre; our choice. */
const FILM_MOST_G_PER_M2 = 200;

/** A surface taken for dry, from now on. */
export function beginWetness(): Wetness {
  return { atMs: 0, flowGPerM2H: 0, filmGPerM2: 0, wetMs: 0 };
}

/**
 * Let water condense on a surface, or a film of it evaporate, up to `atMs`.
 *
 * Between two steps the flow is taken to change in a straight line. Below 0 °C the balance is over
 * ice. The film's own warming and cooling of the surface is left out, so that films come out
 * somewhat thick. Total.
 *
 * @param atMs Unix ms; a step back in time changes nothing
 * @param airVapourHpa vapour pressure of the air, hPa
 * @param surfaceC of cocoons or of a wall, °C
 * @param longestMs a longer step was not seen: the film stays as it is, and no time counts
 *
 * Source: Lewis relation of heat and mass transfer (textbook), coefficients as above.
 */
export function stepWetness(
  state: Wetness,
  atMs: number,
  airVapourHpa: number,
  surfaceC: number,
  longestMs = HOUR_MS,
): Wetness {
  const spanMs = atMs - state.atMs;
  if (!(spanMs > 0)) return state;
  const flowGPerM2H = flowTo(airVapourHpa, surfaceC);
  const { flowGPerM2H: before, filmGPerM2, wetMs } = state;
  if (spanMs > longestMs || (filmGPerM2 === 0 && before <= 0 && flowGPerM2H <= 0))
    return { atMs, flowGPerM2H, filmGPerM2, wetMs };
  const state1 = { film: filmGPerM2, wetH: 0 };
  const hours = spanMs / HOUR_MS;
  // Where the flow turns round, the span is two: a film cannot fall below nothing in between.
  if (before * flowGPerM2H < 0) {
    const turn = before / (before - flowGPerM2H);
    flow(state1, before, 0, hours * turn);
    flow(state1, 0, flowGPerM2H, hours * (1 - turn));
  } else flow(state1, before, flowGPerM2H, hours);
  return {
    atMs,
    flowGPerM2H,
    filmGPerM2: state1.film,
    wetMs: wetMs + Math.min(spanMs, state1.wetH * HOUR_MS),
  };
}

/** g/m² per hour that reach a surface of this temperature. */
function flowTo(vapourHpa: number, surfaceC: number): number {
  const balanceHpa =
    surfaceC < 0 ? saturationPressureOverIceHpa(surfaceC) : saturationPressureHpa(surfaceC);
  return VAPOUR_M_PER_H * absoluteHumidityGPerM3(vapourHpa - balanceHpa, surfaceC);
}

/** Let a flow that does not change its sign act for some hours; changes `on` in place. */
function flow(on: { film: number; wetH: number }, from: number, to: number, hours: number): void {
  const broughtG = ((from + to) / 2) * hours;
  if (broughtG >= 0) {
    on.wetH += hours;
    on.film = Math.min(FILM_MOST_G_PER_M2, on.film + broughtG);
  } else if (on.film + broughtG > 0) {
    on.wetH += hours;
    on.film += broughtG;
  } else {
    on.wetH += hours * shareUntilDry(on.film, from * hours, to * hours);
    on.film = 0;
  }
}

/** Share of a span after which a film is gone; flows are given for the whole span. */
function shareUntilDry(film: number, from: number, to: number): number {
  if (film <= 0) return 0;
  // film + from·x + (to − from)·x²/2 = 0, in the form that stays exact where the last term is nil.
  const root = Math.sqrt(Math.max(0, from * from - 2 * (to - from) * film));
  return Math.min(1, (2 * film) / (root - from));
}
