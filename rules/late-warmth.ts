import type { Urgency } from "../shared/excursion.js";
import type { SpeciesProfile } from "../shared/species.js";

/** How ready sleeping bees are to wake, and how soon the first may. */
export type LateWarmth = Readonly<{
  /** `asleep`: too little chill for many to emerge; `ready`: enough for the best emergence. */
  sleep: "asleep" | "lightening" | "ready";
  /** Days of this warmth until the first may emerge; null where they stay asleep. */
  soonestDays: number | null;
}>;

/**
 * Above this, °C, warmth is taken to bring ready bees nearer to emerging: our choice, the colder
 * of the two at which many emerged in store (Bosch and Kemp 2003). The trade releases above 13 °C.
 */
const WAKES_FROM_C = 10;

/**
 * What warmth may do to bees that have had so much chill. Total.
 *
 * Warmth late in winter weighs more than its share of reserve says: once chill is met, nothing but
 * cold keeps them asleep, and after long winters at 10 and 13 °C many emerged while still in store
 * (Bosch J, Kemp WP (2003), Environ. Entomol. 32:711–716). The first males may come on the soonest
 * day that the handbook gives for a warm room; at less warmth it takes as many degree-days above
 * 10 °C. That it is as many, and that a need of chill not quite met lengthens it in a straight line,
 * is our choice.
 *
 * @param chillDays days of chill so far
 * @param cocoonC how warm they are, °C
 */
export function lateWarmth(
  chillDays: number,
  cocoonC: number,
  profile: SpeciesProfile,
): LateWarmth {
  const least = profile.chillDaysLeast.value;
  const best = Math.max(least, profile.chillDaysBest.value.low);
  if (!(chillDays >= least)) return { sleep: "asleep", soonestDays: null };
  const sleep = chillDays >= best ? "ready" : "lightening";
  if (!(cocoonC > WAKES_FROM_C)) return { sleep, soonestDays: null };
  const { low, high } = profile.emergenceDays.value;
  const unmet = sleep === "ready" ? 0 : (best - chillDays) / (best - least);
  const degreeDays = Math.max(1, profile.emergenceAtC.value.low - WAKES_FROM_C);
  const daysInRoom = low + (high - low) * unmet;
  return { sleep, soonestDays: (daysInRoom * degreeDays) / (cocoonC - WAKES_FROM_C) };
}

/**
 * The urgency of warmth, one step higher for bees that are ready to wake and warmer than counts as
 * chill: nothing else keeps them asleep. Others stay as they are. Our choice. Total.
 *
 * @param urgency what the same warmth asks for at any time of winter
 */
export function urgencyLate(
  urgency: Urgency | null,
  chillDays: number,
  cocoonC: number,
  profile: SpeciesProfile,
): Urgency | null {
  if (urgency === null || cocoonC <= profile.chillBelowC.value) return urgency;
  if (lateWarmth(chillDays, cocoonC, profile).sleep !== "ready") return urgency;
  return urgency === "note" ? "visit" : "rush";
}
