import type { TemperatureUnit } from "../letters/temperature-words.js";

/** What a part of a picture leads to. */
export type Address =
  | Readonly<{ kind: "month"; chamberId: string; atMs: number }>
  | Readonly<{ kind: "day"; chamberId: string; atMs: number }>
  | Readonly<{ kind: "excursion"; chamberId: string; id: string }>;

/** How a picture is to be drawn, whatever it shows. */
export type Look = Readonly<{
  /** Width of the drawing in its own units, CSS px where it is shown at 1 : 1; 300 or more. */
  widthPx: number;
  /** Days and clock times are those of this IANA zone. */
  timezone: string;
  unit: TemperatureUnit;
  hourCycle: "h12" | "h23";
  /** Begins every id in the drawing, so that several fit into one page. Letters and hyphens. */
  idPrefix: string;
  /** The address of a part, or null for no link; null altogether for a picture without links. */
  hrefOf: ((address: Address) => string | null) | null;
}>;

/** A width at which notes stand in two columns. */
export const TWO_COLUMNS_PX = 900;

/** A width at which lines of figures and single days have room; below it, less is written. */
export const ROOMY_PX = 640;
