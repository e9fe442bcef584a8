import { DAY_MS, HOUR_MS } from "../shared/time.js";

/**
 * How readily mould takes to a material, from wood that feeds it to glass that does not.
 * `pine-sapwood` is the model of 1999; `very-sensitive` is the same wood in the later classes.
 */
export type Sensitivity =
  | "pine-sapwood"
  | "very-sensitive"
  | "sensitive"
  | "medium-resistant"
  | "resistant";

/**
 * What cocoons are taken for. Nobody has measured them; paper, pollen and frass feed mould at
 * least as well as sapwood does. Our choice.
 */
export const COCOON_SENSITIVITY: Sensitivity = "very-sensitive";

/** Mould on one box: the index of the model, and since when conditions have been too dry for it. */
export type Mould = Readonly<{
  atMs: number;
  /** 0 nothing, 1 seen under a microscope, 3 seen by eye, 6 covers all. */
  index: number;
  /** How long growth has been impossible, ms; 0 while it grows. */
  dryMs: number;
}>;

type Class = Readonly<{
  /** Growth against pine sapwood that has no mould yet: below index 1, and above. */
  start: number;
  /** null: by the regression for index 3. */
  spread: number | null;
  /** Highest index: a + b·x − c·x², x being how far humidity is from critical towards 100 %. */
  a: number;
  b: number;
  c: number;
  leastPct: number;
  /** Decline against wood. */
  decline: number;
}>;

// Ojanen T et al. (2010), Mold growth modeling of building structures using sensitivity classes of
// materials, Buildings XI; Viitanen H, Ojanen T (2007), Buildings X.
const CLASSES: Readonly<Record<Sensitivity, Class>> = {
  "pine-sapwood": { start: 1, spread: null, a: 1, b: 7, c: 2, leastPct: 80, decline: 1 },
  "very-sensitive": { start: 1, spread: 2, a: 1, b: 7, c: 2, leastPct: 80, decline: 1 },
  sensitive: { start: 0.578, spread: 0.386, a: 0.3, b: 6, c: 1, leastPct: 80, decline: 0.5 },
  "medium-resistant": {
    start: 0.072,
    spread: 0.097,
    a: 0,
    b: 5,
    c: 1.5,
    leastPct: 85,
    decline: 0.25,
  },
  resistant: { start: 0.033, spread: 0.014, a: 0, b: 3, c: 1, leastPct: 85, decline: 0.1 },
};

/** How sharply growth slows as the index nears its highest. Hukka and Viitanen (1999). */
const BRAKE = 2.3;
/** Above it critical humidity is the class's least. Hukka and Viitanen (1999). */
const PLAIN_FROM_C = 20;
// Decline by day of dryness: at once for 6 h, then none until 24 h, then slowly. The same.
const DECLINE_FIRST_PER_DAY = 0.032;
const DECLINE_LATER_PER_DAY = 0.016;
const DECLINE_FIRST_MS = 6 * HOUR_MS;
const DECLINE_LATER_FROM_MS = 24 * HOUR_MS;

export function beginMould(atMs: number): Mould {
  return { atMs, index: 0, dryMs: 0 };
}

/**
 * Humidity, %, below which mould does not grow, however long it has. Falls as it gets warmer;
 * 100 at 0 °C and below, where the model knows no growth. Total.
 *
 * Source: Hukka A, Viitanen HA (1999), A mathematical model of mould growth on wooden material,
 * Wood Sci. Technol. 33:475–485; least humidities from the classes above.
 */
export function criticalHumidityPct(temperatureC: number, sensitivity: Sensitivity): number {
  if (temperatureC <= 0) return 100;
  const { leastPct } = CLASSES[sensitivity];
  if (temperatureC > PLAIN_FROM_C) return leastPct;
  const t = temperatureC;
  return Math.max(leastPct, ((-0.00267 * t + 0.16) * t - 3.13) * t + 100);
}

/**
 * Weeks until mould begins (index 1) on clean kiln-dried pine sapwood, in steady conditions.
 *
 * @param temperatureC °C, above 0; the regression was fitted from 5 to 40 °C, below it is stretched
 * @param humidityPct %, from critical to 100
 *
 * Source: Hukka and Viitanen (1999), wood species and surface quality 0.
 */
export function weeksToFirstMould(temperatureC: number, humidityPct: number): number {
  return Math.exp(-0.68 * Math.log(temperatureC) - 13.9 * Math.log(humidityPct) + 66.02);
}

/** Weeks until mould is seen by eye (index 3); else as `weeksToFirstMould`. */
export function weeksToVisibleMould(temperatureC: number, humidityPct: number): number {
  return Math.exp(-0.74 * Math.log(temperatureC) - 12.72 * Math.log(humidityPct) + 61.5);
}

/**
 * Let mould grow, or decline, up to `atMs`.
 *
 * The VTT model: made for wood in buildings, never checked on cocoons or paper, and near 0 °C
 * stretched beyond its experiments. Its index compares one box or week with another; it does not
 * foretell what a keeper will see. Solved exactly for conditions that hold throughout the step,
 * so that steps of any length add up alike. Total.
 *
 * @param atMs Unix ms; a step back in time changes nothing
 * @param temperatureC mean at the cocoons since the last step, °C
 * @param humidityPct mean at the cocoons since the last step, %; above 100 counts as 100
 * @param longestMs a longer step was not seen and changes nothing but the time
 */
export function stepMould(
  state: Mould,
  atMs: number,
  temperatureC: number,
  humidityPct: number,
  sensitivity: Sensitivity,
  longestMs = HOUR_MS,
): Mould {
  const spanMs = atMs - state.atMs;
  if (!(spanMs > 0)) return state;
  if (spanMs > longestMs) return { atMs, index: state.index, dryMs: state.dryMs };
  const criticalPct = criticalHumidityPct(temperatureC, sensitivity);
  const wetPct = Math.min(100, humidityPct);
  const kind = CLASSES[sensitivity];
  // A hair above 0 °C the polynomial rounds to 100, where no share of the way is left.
  if (criticalPct >= 100 || wetPct < criticalPct) {
    const dryMs = state.dryMs + spanMs;
    const lost = kind.decline * (declineAfter(dryMs) - declineAfter(state.dryMs));
    return { atMs, index: Math.max(0, state.index - lost), dryMs };
  }
  const share = (wetPct - criticalPct) / (100 - criticalPct);
  const highest = Math.max(0, kind.a + kind.b * share - kind.c * share * share);
  const weeks = weeksToFirstMould(temperatureC, wetPct);
  const start = (kind.start * spanMs) / (7 * DAY_MS * weeks);
  const spread = kind.spread ?? 2 / (weeksToVisibleMould(temperatureC, wetPct) / weeks - 1);
  const index = grow(state.index, highest, start, (start * spread) / kind.start);
  return { atMs, index, dryMs: 0 };
}

/** Index lost after so long a dryness, by the original model. */
function declineAfter(dryMs: number): number {
  const first = Math.min(dryMs, DECLINE_FIRST_MS) * DECLINE_FIRST_PER_DAY;
  return (first + Math.max(0, dryMs - DECLINE_LATER_FROM_MS) * DECLINE_LATER_PER_DAY) / DAY_MS;
}

/** Index after growth that, unbraked, would add `start` below index 1 and `spread` above it. */
function grow(index: number, highest: number, start: number, spread: number): number {
  if (index >= highest) return index;
  if (index >= 1) return closer(index, highest, spread);
  const grown = closer(index, highest, start);
  if (grown <= 1) return grown;
  // The share of the growth that was needed to come to 1; the rest goes on at the other rate.
  const left = Math.expm1(BRAKE * (highest - index)) / Math.expm1(BRAKE * (highest - 1));
  return closer(1, highest, spread * (1 - Math.log(left) / (BRAKE * start)));
}

/** Closed form of dM/dx = 1 − exp(2.3 (M − highest)), x = `unbraked`, for M below the highest. */
function closer(index: number, highest: number, unbraked: number): number {
  const left = Math.expm1(BRAKE * (highest - index)) * Math.exp(-BRAKE * unbraked);
  return highest - Math.log1p(left) / BRAKE;
}
