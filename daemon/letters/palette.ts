import type { Direction } from "./body.js";

/** Colours of one appearance, as #rrggbb. */
export type Inks = Readonly<{
  paper: string;
  ink: string;
  quiet: string;
  rule: string;
  inset: string;
  directions: Readonly<Record<Direction, string>>;
}>;

/**
 * Direction colours follow the design: warm rust, cold blue, damp moss, dry straw. Every ink
 * reaches 4.5 : 1 on both `paper` and `inset` (WCAG 2.2, success criterion 1.4.3, level AA). The
 * shades themselves are our choice.
 */
export const DAYLIGHT: Inks = {
  paper: "#fbf9f3",
  ink: "#26221c",
  quiet: "#635b4f",
  rule: "#ddd6c8",
  inset: "#f1ece0",
  directions: { warm: "#96451b", cold: "#22577f", damp: "#4a6127", dry: "#745a10" },
};

/** The same for a dark screen. */
export const LAMPLIGHT: Inks = {
  paper: "#1d1a16",
  ink: "#ece6da",
  quiet: "#b3a999",
  rule: "#433c33",
  inset: "#2a251f",
  directions: { warm: "#e39468", cold: "#85b8df", damp: "#a9c17c", dry: "#d8bd68" },
};

/** The angle of each direction's hatching, so that a grey print reads the same. */
export const HATCHING_DEG: Readonly<Record<Direction, number>> = {
  warm: 45,
  cold: 135,
  damp: 0,
  dry: 90,
};
