import type { CalendarDay } from "./calendar-day.js";

/** What an inspection can find, as a keeper names it. */
export const SIGHTS = ["mould", "early-bees", "mites", "wasps", "beetles", "flies"] as const;
export type Sight = (typeof SIGHTS)[number];

/** What was done or seen, with what goes with it. */
export type Act = Readonly<
  | { kind: "damped" | "aired" | "paper-changed" | "cleaned" | "bloom" | "note" | "withdrawn" }
  /** Empty where everything was as it should be. */
  | { kind: "inspected"; seen: readonly Sight[] }
  /** A lot goes into a chamber, or out of the cold where `toChamberId` is null. */
  | { kind: "moved"; toChamberId: string | null }
  /** `scaleG` is the smallest step that the scale shows. */
  | { kind: "weighed"; label: string; cocoons: number; massG: number; scaleG: number }
  /** Of a sample cut open; what is neither parasitised nor dead was alive. */
  | { kind: "opened"; cocoons: number; parasitised: number; dead: number }
  /** Cocoons found spoilt and taken out. */
  | { kind: "lost"; cocoons: number }
  /** Put out to fly. */
  | { kind: "released"; small: number; large: number }
  /** What is left of a lot is given up. */
  | { kind: "ended" }
>;

export type ActKind = Act["kind"];

/** An entry as the keeper gives it. */
export type NewEntry = Readonly<{
  /** When it was done or seen, Unix ms; not when it was written. */
  atMs: number;
  /** Where; null where it concerns no chamber. For a lot, where the lot was. */
  chamberId: string | null;
  lotId: string | null;
  act: Act;
  words: string;
  /** The entry that this one stands in for; `withdrawn` stands in for it with nothing. */
  corrects: number | null;
}>;

/** An entry as the journal keeps it: never changed, and never gone. */
export type Entry = NewEntry & Readonly<{ no: number; writtenAtMs: number }>;

/** What a lot is: cocoons of one harvest and origin. Where it is, the journal says. */
export type Lot = Readonly<{
  id: string;
  species: string;
  origin: string;
  harvestedOn: CalendarDay | null;
  /** Large cocoons, mostly females, and small ones, mostly males, at the start. */
  large: number;
  small: number;
  box: string;
  /** Warm days as adults before the cold; null where nobody knows. */
  warmDays: number | null;
  words: string;
}>;

/** A lot as it was written down once; a later version stands in for it. */
export type LotVersion = Lot & Readonly<{ no: number; writtenAtMs: number }>;
