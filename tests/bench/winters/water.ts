import { USUAL_LIMITS } from "../../../rules/climate-limits.js";
import { beginMould, type Mould, stepMould } from "../../../rules/mould.js";
import { saturationOverWaterPa } from "../../../sensors/simulated/moist-air.js";
import type { Sample, Truth } from "../../../sensors/simulated/simulation.js";
import type { Cause, Urgency } from "../../../shared/excursion.js";
import { HOUR_MS } from "../../../shared/time.js";
import type { Told } from "./score.js";

const WATER_CAUSES = ["damp", "condensation", "mould", "dry"] as const;
type WaterCause = (typeof WATER_CAUSES)[number];

/** What was told of water, and whether the truth behind it bears it out. */
export type WaterTold = Readonly<{ cause: WaterCause; urgency: Urgency; inVain: boolean }>;

/** An hour at the true cocoons: means of temperature and humidity, the highest humidity, the index. */
type Hour = { fromMs: number; n: number; sumC: number; sumPct: number; mostPct: number };

/** A good sensor is off by so much, %RH (datasheets); what it tells then is no letter in vain. */
const OFF_PCT = 3;
/** The index may be off by as much of its limit as that makes of it; our choice. */
const OFF_INDEX = 0.2;
const DRY_BELOW_PCT = 60;

/** Follows the true humidity at the cocoons of a winter, and judges what was told of it. */
export class WaterTruth {
  readonly #hours: Hour[] = [];

  look({ reading, truth }: Sample): void {
    const fromMs = Math.floor(reading.takenAtMs / HOUR_MS) * HOUR_MS;
    const last = this.#hours.at(-1);
    const hour = last?.fromMs === fromMs ? last : { fromMs, n: 0, sumC: 0, sumPct: 0, mostPct: 0 };
    if (hour !== last) this.#hours.push(hour);
    const pct = atCocoonsPct(truth);
    hour.n += 1;
    hour.sumC += truth.cocoonC;
    hour.sumPct += pct;
    hour.mostPct = Math.max(hour.mostPct, pct);
  }

  /** Every letter and note of water, in the order of `told`. */
  mark(told: readonly Told[]): WaterTold[] {
    return told.flatMap(({ cause, change, urgency, atMs }) => {
      const isWater = (one: Cause): one is WaterCause => WATER_CAUSES.some((c) => c === one);
      if (!isWater(cause) || change === "ended") return [];
      return [{ cause, urgency, inVain: !this.#bearsOut(cause, urgency, atMs) }];
    });
  }

  #bearsOut(cause: WaterCause, urgency: Urgency, atMs: number): boolean {
    const day = this.#between(atMs - 24 * HOUR_MS, atMs);
    const edge = urgency === "note" ? "low" : "high";
    switch (cause) {
      case "damp":
        return meanPct(day) >= USUAL_LIMITS.dampPct[edge] - OFF_PCT;
      case "condensation":
        return day.some(({ mostPct }) => mostPct >= 100 - OFF_PCT);
      case "mould":
        return this.#mouldIndex(atMs) >= USUAL_LIMITS.mouldIndex[edge] * (1 - OFF_INDEX);
      case "dry":
        // It is told two days ahead where a trend foretells it.
        return [0, 24, 48].some((h) => {
          const toMs = atMs + h * HOUR_MS;
          return meanPct(this.#between(toMs - 24 * HOUR_MS, toMs)) < DRY_BELOW_PCT + OFF_PCT;
        });
    }
  }

  #between(fromMs: number, toMs: number): readonly Hour[] {
    return this.#hours.filter((hour) => hour.fromMs >= fromMs && hour.fromMs < toMs);
  }

  /** The index on the true course since the winter began; the model is the judge's own. */
  #mouldIndex(toMs: number): number {
    let mould: Mould = beginMould(this.#hours[0]?.fromMs ?? toMs);
    for (const { fromMs, n, sumC, sumPct } of this.#hours)
      if (fromMs < toMs)
        mould = stepMould(mould, fromMs + HOUR_MS, sumC / n, sumPct / n, "very-sensitive");
    return mould.index;
  }
}

const meanPct = (hours: readonly Hour[]): number =>
  hours.reduce((sum, { sumPct }) => sum + sumPct, 0) / hours.reduce((sum, { n }) => sum + n, 0);

/** The vapour in the box over saturation at the cocoons, by the simulator's own formula. */
function atCocoonsPct({ boxHumidityPct, boxC, cocoonC }: Truth): number {
  return (boxHumidityPct * saturationOverWaterPa(boxC)) / saturationOverWaterPa(cocoonC);
}

/** "water: damp 2 visits, 1 in vain, 3 notes, 0 in vain; …" of all winters together. */
export function rowWater(told: readonly WaterTold[], winters: number): string {
  const parts = WATER_CAUSES.map((cause) => {
    const of = told.filter((one) => one.cause === cause);
    const visits = of.filter(({ urgency }) => urgency !== "note");
    const notes = of.filter(({ urgency }) => urgency === "note");
    const vain = (some: readonly WaterTold[]) => some.filter(({ inVain }) => inVain).length;
    return `${cause} ${visits.length} (${vain(visits)}), notes ${notes.length} (${vain(notes)})`;
  });
  return `letters of water in ${winters} winter(s) (in vain by the true humidity): ${parts.join("; ")}`;
}
