import type { Span } from "./site.js";

/** Why cocoons left, or will leave, what is safe. */
export const CAUSES = [
  "door-ajar",
  "opening",
  "defrost",
  "cooling-lost",
  "over-cooling",
  "warm",
  "cold",
  "damp",
  "dry",
  "condensation",
  "mould",
  "probe-mute",
  "probe-stuck",
  "probe-wild",
  "probe-drift",
] as const;
export type Cause = (typeof CAUSES)[number];

/** What an excursion asks of the keeper, least first: read it in the digest, go today, go now. */
const URGENCIES = ["note", "visit", "rush"] as const;
export type Urgency = (typeof URGENCIES)[number];

/** Whether the first asks more of the keeper than the second. */
export function outranks(urgency: Urgency, other: Urgency): boolean {
  return URGENCIES.indexOf(urgency) > URGENCIES.indexOf(other);
}

/** What an excursion took so far. A figure that was not or cannot be judged is null. */
export type Cost = Readonly<{
  /** °C·h of the cocoons above the band. */
  degreeHoursAbove: number;
  /** °C·h of the cocoons below the band. */
  degreeHoursBelow: number;
  /** Equivalent days at 4 °C burnt while it lasted. */
  reserveDays: number;
  /** Hours that the cocoons were wet while it lasted, and how much the mould index rose. */
  wetHours: number | null;
  mouldIndex: number | null;
}>;

/** What stands beside an excursion and is not its cost. What is not known is null or absent. */
export type Beside = Readonly<{
  /** Humidity at the cocoons over the last hours, %RH, and where it is known from. */
  cocoonHumidityPct?: number | null;
  humidityFrom?: "box" | "air" | null;
  /** Of the worst box, 0 to 6. */
  mouldIndex?: number | null;
  /** When the keeper last damped the paper, where that bears on it, Unix ms. */
  dampedMs?: number | null;
  /** When a box is likely to fall below its humidity band, Unix ms. */
  dryOnMs?: number | null;
  /** Late in winter: days of chill so far, and days of the warmth ahead until the first may emerge. */
  late?: Readonly<{
    chillDays: number;
    soonestDays: number | null;
    sleep: "lightening" | "ready";
  }> | null;
  /** A stretch that nobody saw, and what cocoons can have reached in it at the most. */
  dark?: DarkStretch | null;
}>;

/** A stretch of time that nobody saw, and bounds on the cocoons in it, °C. */
export type DarkStretch = Readonly<{
  fromMs: number;
  toMs: number;
  coldestC: number;
  warmestC: number;
  /** Where they would have ended had nothing cooled them all that time, °C. */
  uncooledC: Span;
}>;

/** How long until cocoons reach a temperature; minutes from the finding. */
export type Reach = Readonly<{
  targetC: number;
  soonestMin: number;
  /** null where they may never get there. */
  latestMin: number | null;
}>;

/** Where the cocoons are heading if nobody does anything. */
export type Forecast = Readonly<{
  /** Where the air or the cocoons seem to settle, °C. */
  settlesAtC: Span;
  reaches: readonly Reach[];
}>;

/** A change of one excursion, at the instant at which the keeper would be told. */
export type Finding = Readonly<{
  atMs: number;
  /** null for a probe that belongs to no chamber. */
  chamberId: string | null;
  /** The probe that is the evidence; for `probe-*` causes, the one at fault. */
  probeId: string | null;
  /** Unique in a site for ever, and the same whenever the same readings are judged again. */
  excursionId: string;
  change: "opened" | "raised" | "ended";
  cause: Cause;
  urgency: Urgency;
  /** When it began, as best known afterwards; never later than `atMs`. */
  startedAtMs: number;
  /** Cocoon temperature now, °C; null while none is known. */
  cocoonC: number | null;
  airC: number | null;
  humidityPct: number | null;
  /** Warmest and coldest cocoon since it started, °C. */
  cocoonSpanC: Span | null;
  /** What it was judged against, e.g. the band's edge or the fridge's own habit. One plain clause. */
  comparedWith: string;
  cost: Cost;
  forecast: Forecast | null;
  /** Absent from findings stored before there was any. */
  beside?: Beside;
}>;

/** An excursion as the store keeps it: its latest finding, when it was told and when it ended. */
export type Excursion = Readonly<{
  id: string;
  chamberId: string | null;
  probeId: string | null;
  cause: Cause;
  urgency: Urgency;
  startedAtMs: number;
  openedAtMs: number;
  endedAtMs: number | null;
  acknowledgedAtMs: number | null;
  latest: Finding;
}>;
