/** What a keeper does to a chamber's boxes, or sees in them, as the journal keeps it. */
export const DEEDS = [
  "damped",
  "aired",
  "paper-changed",
  "cleaned",
  "moved",
  "inspected",
  "mould-seen",
  "no-mould",
] as const;
export type Deed = (typeof DEEDS)[number];
