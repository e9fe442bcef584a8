import type { Cause, Cost, Forecast, Urgency } from "../../shared/excursion.js";
import type { Span } from "../../shared/site.js";

/*
 * What drawings are made from: plain data, gathered by `daemon/season/` from the store. Times are
 * Unix ms, temperatures °C, humidities %RH; a stretch is [fromMs, toMs).
 */

/** One stretch of a quantity; a single reading has low, mean and high alike. */
export type Piece = Readonly<{
  fromMs: number;
  toMs: number;
  low: number;
  mean: number;
  high: number;
}>;

/** A quantity through time, oldest first; where pieces do not meet, nothing was measured. */
export type Course = readonly Piece[];

/** A stretch of time, its end not in it. */
export type Stretch = Readonly<{ fromMs: number; toMs: number }>;

/** An excursion as far as a picture needs it. */
export type ExcursionMark = Readonly<{
  id: string;
  cause: Cause;
  /** Which probe it is about, where its fault is a probe's. */
  probeId: string | null;
  urgency: Urgency;
  startedAtMs: number;
  /** null while it lasts. */
  endedAtMs: number | null;
  cocoonSpanC: Span | null;
  cost: Cost;
}>;

/** What a keeper did, or what was noted, at one moment; the kind chooses the sign drawn. */
export type Annotation = Readonly<{
  atMs: number;
  kind: "check" | "damped" | "aired" | "lot" | "seen" | "other";
  /** A few words, from the keeper or of ours; escaped when drawn. */
  text: string;
}>;

/** What both drawings of one chamber stand on. */
export type ChamberMaterial = Readonly<{
  siteName: string;
  chamberId: string;
  bandC: Span;
  humidityBandPct: Span;
  /** What is drawn. */
  span: Stretch;
  /** From when to when it was kept at all: before and after it paper stays blank. */
  watched: Stretch;
  cocoons: Course;
  /** Whether `cocoons` is reckoned from the air, with no probe in a box. */
  isReckoned: boolean;
  humidity: Course;
  /** Within `watched`, stretches in which the cocoons' temperature is not known. */
  unseen: readonly Stretch[];
  /** All that overlap the span but ordinary openings and defrosts, oldest first. */
  excursions: readonly ExcursionMark[];
  /** When ordinary openings, and defrosts, began within the span, oldest first. */
  openingsMs: readonly number[];
  defrostsMs: readonly number[];
  annotations: readonly Annotation[];
}>;

/** A whole winter of one chamber; its courses are of hours. */
export type WinterMaterial = ChamberMaterial;

/** A forecast as it was told. */
export type ToldForecast = Readonly<{ atMs: number; cocoonC: number | null; forecast: Forecast }>;

/** A day, a month or an excursion, closer by than on the winter sheet. */
export type CourseMaterial = ChamberMaterial &
  Readonly<{
    air: Course;
    /** Oldest first. */
    forecasts: readonly ToldForecast[];
  }>;
