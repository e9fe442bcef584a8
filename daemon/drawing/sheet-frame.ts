import type { Span } from "../../shared/site.js";
import { DAY_MS, HOUR_MS } from "../../shared/time.js";
import { type Look, ROOMY_PX } from "./look.js";
import type { Course, WinterMaterial } from "./material.js";
import type { Row } from "./sheet-rows.js";

/** Scales that all staves of a sheet share, so that they may be compared. */
export type SheetFrame = Readonly<{
  look: Look;
  material: WinterMaterial;
  isRoomy: boolean;
  /** Where days begin; scales stand left of it. */
  leftPx: number;
  pxPerDay: number;
  pxPerK: number;
  pxPerPct: number;
  /** Length of a piece of the thread. */
  threadMs: number;
}>;

/** Hours that may go into one piece: parts of a day, so that pieces begin with it. */
const PIECES_H = [1, 2, 3, 4, 6, 12, 24] as const;
const LEAST_PIECE_PX = 3;
/** How high a degree is while all is calm, and how high a stave may grow. */
const CALM_PX_PER_K = { roomy: 11, narrow: 9 } as const;
const TALLEST_PX = 190;
const PX_PER_PCT = 0.6;
const TALLEST_HUMIDITY_PX = 40;
/** How much beyond its band a stave shows at least: K, and %RH. */
export const MARGIN_K = 0.8;
export const MARGIN_PCT = 4;

/**
 * The scales of a sheet of staves of so many days: a degree is as high in each, a day as wide.
 *
 * @param beside other winters that are drawn beside this one, to the same scales
 */
export function frameSheet(
  material: WinterMaterial,
  look: Look,
  daysAlong: number,
  beside: readonly WinterMaterial[] = [],
): SheetFrame {
  const isRoomy = look.widthPx >= ROOMY_PX;
  const leftPx = isRoomy ? 34 : 30;
  const pxPerDay = (look.widthPx - leftPx - 1) / daysAlong;
  const all = [material, ...beside];
  const wide = widest(all.map((one) => reachOf(one.cocoons, one.bandC, MARGIN_K)));
  const humid = widest(all.map((one) => reachOf(one.humidity, one.humidityBandPct, MARGIN_PCT)));
  const calm = isRoomy ? CALM_PX_PER_K.roomy : CALM_PX_PER_K.narrow;
  const pieceH = PIECES_H.find((hours) => (hours * pxPerDay) / 24 >= LEAST_PIECE_PX) ?? 24;
  return {
    look,
    material,
    isRoomy,
    leftPx,
    pxPerDay,
    pxPerK: Math.min(calm, TALLEST_PX / wide),
    pxPerPct: Math.min(PX_PER_PCT, TALLEST_HUMIDITY_PX / humid),
    threadMs: pieceH * HOUR_MS,
  };
}

const widest = (reaches: readonly Span[]): number =>
  Math.max(...reaches.map(({ low, high }) => high - low));

/** What a pane must show: the band with a margin, and all that was reached. */
export function reachOf(course: Course, band: Span, margin: number): Span {
  let { low, high } = { low: band.low - margin, high: band.high + margin };
  for (const piece of course) {
    low = Math.min(low, piece.low);
    high = Math.max(high, piece.high);
  }
  return { low, high };
}

/** Where a moment lies along a stave, px. */
export const alongOf =
  ({ leftPx, pxPerDay }: SheetFrame, { originMs }: Row) =>
  (atMs: number): number =>
    leftPx + ((atMs - originMs) / DAY_MS) * pxPerDay;
