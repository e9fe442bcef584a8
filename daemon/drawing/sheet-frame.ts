import type { Span } from "../../shared/site.js";
import { DAY_MS, HOUR_MS } from "../../shared/time.js";
import { type Look, ROOMY_PX } from "./look.js";
import type { Course, WinterMaterial } from "./material.js";

/** Scales that all months of a winter sheet share, so that they may be compared. */
export type SheetFrame = Readonly<{
  look: Look;
  material: WinterMaterial;
  isRoomy: boolean;
  /** Where days begin; scales stand left of it. */
  leftPx: number;
  pxPerDay: number;
  pxPerK: number;
  pxPerPct: number;
  /** Pieces of the thread. */
  threadMs: number;
}>;

const LONGEST_MONTH_DAYS = 31;
/** An hour's piece of thread, or how many hours go into one. */
const PIECES_H = [1, 2, 3, 4, 6, 12, 24] as const;
const LEAST_PIECE_PX = 1.5;
/** How high a degree is while the winter is calm, and how high a month may grow. */
const CALM_PX_PER_K = { roomy: 11, narrow: 9 } as const;
const TALLEST_PX = 190;
const PX_PER_PCT = 0.55;
const TALLEST_HUMIDITY_PX = 34;

/** The scales of a sheet: one degree is as high in every month, and one day as wide. */
export function frameSheet(material: WinterMaterial, look: Look): SheetFrame {
  const isRoomy = look.widthPx >= ROOMY_PX;
  const leftPx = isRoomy ? 34 : 28;
  const pxPerDay = (look.widthPx - leftPx - 1) / LONGEST_MONTH_DAYS;
  const wide = reachOf(material.cocoons, material.bandC, 0.8);
  const humid = reachOf(material.humidity, material.humidityBandPct, 3);
  const calm = isRoomy ? CALM_PX_PER_K.roomy : CALM_PX_PER_K.narrow;
  const pieceH = PIECES_H.find((hours) => (hours * pxPerDay) / 24 >= LEAST_PIECE_PX) ?? 24;
  return {
    look,
    material,
    isRoomy,
    leftPx,
    pxPerDay,
    pxPerK: Math.min(calm, TALLEST_PX / (wide.high - wide.low)),
    pxPerPct: Math.min(PX_PER_PCT, TALLEST_HUMIDITY_PX / (humid.high - humid.low)),
    threadMs: pieceH * HOUR_MS,
  };
}

/** What a pane must show: the band with a margin, and all that was reached. */
export function reachOf(course: Course, band: Span, margin: number): Span {
  let { low, high } = { low: band.low - margin, high: band.high + margin };
  for (const piece of course) {
    low = Math.min(low, piece.low);
    high = Math.max(high, piece.high);
  }
  return { low, high };
}

/** Where a moment lies along a month that began at `monthMs`, px. */
export const alongOf =
  ({ leftPx, pxPerDay }: SheetFrame, monthMs: number) =>
  (atMs: number): number =>
    leftPx + ((atMs - monthMs) / DAY_MS) * pxPerDay;
