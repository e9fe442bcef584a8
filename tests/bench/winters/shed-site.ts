import type { Site } from "../../../shared/site.js";

/** The one chamber of a bench's site. */
export const SHED_ID = "shed";

/**
 * A site of one chamber with the cocoons of red mason bees.
 *
 * @param probeIds those that end in "box" lie in the box, the others hang in the air
 * @param timezone IANA name
 */
export function shedSite(
  probeIds: readonly string[],
  intervalMs: number,
  timezone = "Europe/London",
): Site {
  return {
    name: "Quillmere shed",
    timezone,
    chambers: [
      {
        id: SHED_ID,
        species: "osmia-bicornis",
        bandC: { low: 1.1, high: 3.3 },
        humidityBandPct: { low: 60, high: 70 },
        cocoonLagMs: null,
      },
    ],
    probes: probeIds.map((id) => ({
      id,
      chamberId: SHED_ID,
      place: id.endsWith("box") ? ("box" as const) : ("air" as const),
      intervalMs,
    })),
  };
}
