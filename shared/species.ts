import type { Span } from "./site.js";

/** A value and how it is known. */
export type Sourced<T> = Readonly<{
  value: T;
  standing:
    | "experiment"
    | "handbook"
    | "our choice"
    | "common practice, no source"
    | "the keeper's own";
  /** The paper, or empty where there is none. */
  source: string;
  /** The species it was found on; whoever else uses it borrows it. Empty: on none. */
  foundOn: readonly string[];
}>;

/** Offspring of each female lost, %, against wintering at 0 °C. */
type OffspringLoss = Readonly<{ atC: number; lostPct: number }>;

/** What a profile says of wintering. */
export type SpeciesValues = Readonly<{
  /** Storage, °C and %RH. */
  bandC: Sourced<Span>;
  humidityBandPct: Sourced<Span>;
  /** At this warmth, °C, no wintering is suitable, even briefly. */
  neverSuitableC: Sourced<number>;
  /** Time at this or below, °C, counts as chill. */
  chillBelowC: Sourced<number>;
  /** With fewer days of chill few emerge; within the span they emerge best. */
  chillDaysLeast: Sourced<number>;
  chillDaysBest: Sourced<Span>;
  /** Usual days in cold storage. */
  storageDays: Sourced<Span>;
  /** Days from steady warmth of a room until the first emerge, and until most males have. */
  emergenceDays: Sourced<Span>;
  /** Warmth at which those days were seen, °C. */
  emergenceAtC: Sourced<Span>;
  offspringLoss: Sourced<readonly OffspringLoss[]>;
}>;

/** What Drowse takes for true of one kind of bee that winters as an adult in its cocoon. */
export type SpeciesProfile = SpeciesValues &
  Readonly<{
    id: string;
    name: string;
    /** The known species whose results are its own as well, where a keeper says so. */
    like?: string;
  }>;
