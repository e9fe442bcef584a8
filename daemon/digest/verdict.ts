import { isAmongCocoons } from "../../shared/site.js";
import { HOUR_MS } from "../../shared/time.js";
import type { ChamberWeek, DigestFigures } from "./figures.js";

/** How storage went in one word. */
type WeekWord = "sound" | "strained" | "harmed";

/** What speaks against `sound`. */
export type ReasonKind =
  | "hot"
  | "warmth"
  | "frost"
  | "chill"
  | "mould"
  | "winter"
  | "band"
  | "excursions"
  | "damp"
  | "dry"
  | "unseen"
  | "deaf"
  | "doubted"
  | "parted"
  | "mail";

/** One reason, gravest first in a verdict. `aside` is worth saying but weighs nothing. */
export type Reason = Readonly<{
  kind: ReasonKind;
  weight: "harmed" | "strained" | "aside";
  /** A chamber, a probe or the site. */
  place: string;
  /** °C, °C·h, share 0 to 1, hours or a count, as the kind says. */
  value: number;
}>;

export type WeekVerdict = Readonly<{ word: WeekWord; reasons: readonly Reason[] }>;

/**
 * Where a week stops being sound. All our choice, but for the first: Bosch and Kemp (2003),
 * Environ. Entomol. 32:711–716, found 10 °C unsuitable for wintering male *Osmia lignaria* for
 * any duration; nothing is claimed for other bees. No dose of cold is published, so frost only
 * strains until it is deep. 1 and 3 of the mould index are its first and its visible growth on
 * pine, from memory of Hukka and Viitanen (1999); nothing calibrates it for cocoons.
 */
export const WEEK_LIMITS = {
  hotC: 10,
  warmthStrainsDegreeHours: 12,
  warmthHarmsDegreeHours: 72,
  frostStrainsC: 0,
  frostHarmsC: -5,
  chillStrainsDegreeHours: 12,
  mouldStrainsIndex: 1,
  mouldHarmsIndex: 3,
  leastInBandShare: 0.95,
  mostDampOrDryShare: 0.25,
  unseenHours: 6,
  leastHeardShare: 0.9,
  doubtedHours: 6,
} as const;

type Weight = Reason["weight"];
const graded = (harms: boolean, strains: boolean): Weight | null =>
  harms ? "harmed" : strains ? "strained" : null;

function extremes({ cocoons, judged, excursions }: ChamberWeek): { low: number; high: number } {
  const spans = [
    ...(cocoons === null ? [] : [cocoons]),
    ...(judged?.cocoonSpanC ? [judged.cocoonSpanC] : []),
    ...excursions.flatMap(({ latest }) => latest.cocoonSpanC ?? []),
  ];
  return {
    low: Math.min(...spans.map(({ low }) => low)),
    high: Math.max(...spans.map(({ high }) => high)),
  };
}

/** Degree-hours of a week: as judged, otherwise those of its excursions, whole. */
function degreeHours(week: ChamberWeek, side: "degreeHoursAbove" | "degreeHoursBelow"): number {
  if (week.judged !== null) return week.judged[side];
  return week.excursions.reduce((sum, { latest }) => sum + latest.cost[side], 0);
}

/** The index as it stands now; what an excursion cost is only its rise. */
function mouldIndex({ judged, season }: ChamberWeek): number {
  return Math.max(judged?.mouldIndex ?? 0, season?.mouldIndex ?? 0);
}

function ofChamber(week: ChamberWeek): Reason[] {
  const limits = WEEK_LIMITS;
  const place = week.chamber.id;
  const reasons: Reason[] = [];
  const add = (kind: ReasonKind, weight: Weight | null, value: number): void => {
    if (weight !== null) reasons.push({ kind, weight, place, value });
  };
  const { low, high } = extremes(week);
  const above = degreeHours(week, "degreeHoursAbove");
  const below = degreeHours(week, "degreeHoursBelow");
  const mould = mouldIndex(week);
  const inBand = week.judged?.inBandShare ?? week.cocoons?.inBandShare ?? 1;
  const letters = week.excursions.filter(
    ({ urgency, cause }) => urgency !== "note" && !cause.startsWith("probe-"),
  ).length;
  const { aboveShare, belowShare } = week.humidity ?? { aboveShare: 0, belowShare: 0 };
  add("hot", graded(high >= limits.hotC, false), high);
  const warms = above >= limits.warmthStrainsDegreeHours;
  add("warmth", graded(above >= limits.warmthHarmsDegreeHours, warms), above);
  add("frost", graded(low < limits.frostHarmsC, low < limits.frostStrainsC), low);
  add("chill", graded(false, below >= limits.chillStrainsDegreeHours), below);
  const grows = mould >= limits.mouldStrainsIndex;
  add("mould", graded(mould >= limits.mouldHarmsIndex, grows), mould);
  const winter = week.season?.wintering ?? null;
  const word = winter?.verdict ?? "sound";
  add("winter", word === "sound" ? null : word, winter?.steadyC ?? 0);
  add("band", graded(false, inBand < limits.leastInBandShare), inBand);
  add("excursions", graded(false, letters > 0), letters);
  add("damp", graded(false, aboveShare > limits.mostDampOrDryShare), aboveShare);
  add("dry", graded(false, belowShare > limits.mostDampOrDryShare), belowShare);
  return reasons;
}

/** Probes that were not to be believed for long, and those that part from their neighbour. */
function ofDoubt({ chambers, fromMs, toMs }: DigestFigures): Reason[] {
  const faults = chambers.flatMap((week) => week.excursions).filter(({ probeId }) => probeId);
  const hoursOf = new Map<string, number>();
  for (const { probeId, cause, urgency, startedAtMs, endedAtMs } of faults) {
    if (urgency === "note" || !/^probe-(wild|stuck)$/.test(cause)) continue;
    const forMs = Math.min(endedAtMs ?? toMs, toMs) - Math.max(startedAtMs, fromMs);
    hoursOf.set(probeId!, (hoursOf.get(probeId!) ?? 0) + forMs / HOUR_MS);
  }
  const parted = faults.filter((one) => one.cause === "probe-drift" && one.endedAtMs === null);
  return [
    ...[...hoursOf]
      .filter(([, hours]) => hours >= WEEK_LIMITS.doubtedHours)
      .map(([place, value]): Reason => ({ kind: "doubted", weight: "strained", place, value })),
    // What is off by a few tenths moves figures, and makes no week a strained one.
    ...parted.map(({ probeId }): Reason => {
      return { kind: "parted", weight: "aside", place: probeId!, value: 1 };
    }),
  ];
}

function ofWatching({ probes, unseenHours, siteName, mail }: DigestFigures): Reason[] {
  const reasons: Reason[] = [];
  if (unseenHours >= WEEK_LIMITS.unseenHours)
    reasons.push({ kind: "unseen", weight: "strained", place: siteName, value: unseenHours });
  for (const { probeId, place, heardShare } of probes) {
    if (heardShare === null || heardShare >= WEEK_LIMITS.leastHeardShare) continue;
    // A verdict on cocoons leans on air and box; a silent wall or room is only worth saying.
    const weight = isAmongCocoons(place) ? "strained" : "aside";
    reasons.push({ kind: "deaf", weight, place: probeId, value: heardShare });
  }
  if (mail.givenUp > 0)
    reasons.push({ kind: "mail", weight: "aside", place: siteName, value: mail.givenUp });
  return reasons;
}

/**
 * How a week went: `harmed` if any reason says so, `strained` if any does, otherwise `sound`. A
 * week that was not seen is never sound. Pure; never throws.
 */
export function judgeWeek(figures: DigestFigures): WeekVerdict {
  const found = [
    ...figures.chambers.flatMap(ofChamber),
    ...ofDoubt(figures),
    ...ofWatching(figures),
  ];
  const weights: readonly Weight[] = ["harmed", "strained", "aside"];
  const reasons = weights.flatMap((weight) => found.filter((reason) => reason.weight === weight));
  const gravest = reasons[0]?.weight ?? "aside";
  return { word: gravest === "aside" ? "sound" : gravest, reasons };
}
