import type { Chamber, ClimateLimits } from "../shared/site.js";
import { HOUR_MS } from "../shared/time.js";

/**
 * When the water at the cocoons is told of, where the keeper has not set it; all our choice.
 *
 * 80 and 90 %RH: pine sapwood is first at risk from about 91 % in the cold of a fridge (Hukka and
 * Viitanen 1999), and pollen and frass are richer food than wood. Index 1 is the first growth that a
 * microscope shows. Common practice damps by a few drops on the paper, which is gone within days.
 */
export const USUAL_LIMITS: ClimateLimits = {
  dampPct: { low: 80, high: 90 },
  dampHoldMs: 24 * HOUR_MS,
  wetHoldMs: 12 * HOUR_MS,
  mouldIndex: { low: 0.5, high: 1 },
  mouldMaterial: "very-sensitive",
  dryHoldMs: 72 * HOUR_MS,
  dampingExplainsMs: 72 * HOUR_MS,
};

/** What holds for a chamber. */
export function climateLimitsOf({ climate }: Chamber): ClimateLimits {
  return climate ?? USUAL_LIMITS;
}
