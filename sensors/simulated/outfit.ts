import type { Fridge } from "./fridge.js";
import type { ProbeSetup } from "./probe.js";
import { drawNormal, seeded } from "./seeded.js";

/** Which probes a simulated chamber is given. */
export type Outfit = Readonly<{ intervalMs: number; humidity: boolean; box: boolean }>;

/**
 * Probes as a keeper would buy them: each with its own constant error, 0.2 K and 2 %RH in
 * standard deviation (SHT4x datasheet, 2020: typically 0.2 K, 1.8 %RH), rounding to a tenth
 * and 2 messages in a hundred lost.
 */
export function outfitChamber(
  fridge: Fridge,
  seed: number,
  chamberId: string,
  outfit: Outfit,
): ProbeSetup[] {
  const random = seeded(seed, "outfit");
  const probe = (place: ProbeSetup["place"], lagS: number, wanderK: number): ProbeSetup => ({
    id: `${chamberId}-${place}`,
    place,
    humidity: outfit.humidity,
    intervalS: outfit.intervalMs / 1_000,
    lagS,
    noiseK: 0.03,
    wanderK,
    humidityNoisePct: 0.4,
    offsetK: 0.2 * drawNormal(random),
    humidityOffsetPct: 2 * drawNormal(random),
    lossShare: 0.02,
  });
  const air = probe("air", fridge.probeLagS, 0.08);
  return outfit.box ? [air, probe("box", 180, 0.01)] : [air];
}
