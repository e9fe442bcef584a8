import type { DarkStretch } from "../shared/excursion.js";
import type { Chamber, Site, Span } from "../shared/site.js";
import { DAY_MS, HOUR_MS } from "../shared/time.js";
import type { ChamberState } from "./chamber-state.js";
import type { Climate } from "./climate.js";
import { type Constant, cocoonLagOf, warmingOf } from "./constants.js";
import { type DriesOn, dampByCalendar, driesOn, TREND_DAYS_LEAST } from "./dries-on.js";
import { deficitHours } from "./drying.js";
import { type Exposure, meanKineticC } from "./exposure.js";
import type { JudgeState } from "./judge.js";
import { type WinterVerdict, winterVerdict } from "./matrix.js";
import { profileIn } from "./species.js";
import { lastDone, type Tended } from "./tended.js";
import type { WetSpell } from "./wet-spells.js";

/** What one chamber's cocoons went through over a span of time. What is not known is null. */
export type ChamberFigures = Readonly<{
  chamberId: string;
  /** When the span began, Unix ms; null before the first reading. */
  fromMs: number | null;
  /** Hours that were seen; the rest lies in the dark. */
  seenHours: number;
  /** Share of the time seen that cocoons were in their band, 0 to 1. */
  inBandShare: number | null;
  cocoonSpanC: Span | null;
  meanKineticC: number | null;
  degreeHoursAbove: number;
  degreeHoursBelow: number;
  /** Equivalent days at 4 °C, Q10 2.5, and the span for Q10 2 and 3. */
  reserveDays: number | null;
  reserveDaysSpan: Span | null;
  /** Days of chill, as the species' profile counts them. */
  chillDays: number | null;
  /** What the wintering matrix says beside the reserve, and which is the stricter. */
  wintering: Readonly<WinterVerdict & { days: number }> | null;
  /** Where the humidity at the cocoons is known from; null where nothing measures it. */
  humidityFrom: "box" | "air" | null;
  /** Humidity at the cocoons over the last hours, %RH, and its lowest and highest so far. */
  cocoonHumidityPct: number | null;
  cocoonHumiditySpanPct: Span | null;
  /** Share of the time known that it was in its band, 0 to 1. */
  humidityInBandShare: number | null;
  /** Hours that the cocoons were wet with water that had settled on them. */
  wetHours: number | null;
  /** The last times that water lay on cocoons or wall, newest last, with what came before. */
  wetSpells: readonly WetSpell[];
  /** 0 to 6, of the worst box. */
  mouldIndex: number | null;
  /** What the keeper last saw of mould; it stands beside the index and does not change it. */
  mouldLooked: Readonly<{ atMs: number; seen: boolean }> | null;
  /** Vapour pressure deficit times time since the last damping, hPa·h. */
  deficitHpaH: number | null;
  /**
   * When the box is likely to fall below its humidity band: by its trend, or by the calendar while
   * none is known. null where there is a trend and no fall in it, and where nothing is known.
   */
  dryOn: DriesOn | null;
  lastDampedMs: number | null;
  /** Lag of the cocoons behind the air, and of the air behind the room with cooling lost. */
  cocoonLag: Constant | null;
  warming: Constant | null;
  /** Time that was not seen since the span began, and what cocoons can have reached in it. */
  dark: Readonly<{
    hours: number;
    cocoonSpanC: Span | null;
    /** The last few stretches, oldest first. */
    stretches: readonly DarkStretch[];
  }> | null;
}>;

/** What each chamber's cocoons went through since the judgement began. */
export function seasonOf(state: JudgeState, site: Site): readonly ChamberFigures[] {
  return state.chambers.map((chamber) => {
    const set = site.chambers.find(({ id }) => id === chamber.chamberId);
    return set === undefined ? nothingSeen(chamber.chamberId) : figuresOf(chamber, set);
  });
}

function figuresOf(state: ChamberState, chamber: Chamber): ChamberFigures {
  const { chamberId, exposure, slow, tended, learning } = state;
  if (exposure === null || exposure.seenMs === 0) return nothingSeen(chamberId);
  const { seenMs, inBandMs, coldestC, warmestC, reserveDays, atMs } = exposure;
  const { reserveDaysQ2, reserveDaysQ3 } = exposure;
  const dampedMs = lastDone(tended, "damped", atMs);
  return {
    chamberId,
    fromMs: exposure.fromMs,
    seenHours: seenMs / HOUR_MS,
    inBandShare: inBandMs / seenMs,
    cocoonSpanC: { low: coldestC, high: warmestC },
    meanKineticC: meanKineticC(exposure),
    degreeHoursAbove: exposure.degreeHoursAbove,
    degreeHoursBelow: exposure.degreeHoursBelow,
    reserveDays,
    // Below 4 °C a steeper rate burns less, above it more.
    reserveDaysSpan: {
      low: Math.min(reserveDaysQ2, reserveDaysQ3),
      high: Math.max(reserveDaysQ2, reserveDaysQ3),
    },
    chillDays: slow.chill?.days ?? null,
    wintering: winteringOf(exposure, chamber),
    ...waterOf(state, chamber, dampedMs),
    wetSpells: slow.wetSpells.spells,
    mouldLooked: lookedOf(tended, atMs),
    lastDampedMs: dampedMs,
    cocoonLag: cocoonLagOf(chamber, learning.lag),
    warming: warmingOf(learning.warming),
    dark: darkOf(state, exposure),
  };
}

function winteringOf(exposure: Exposure, chamber: Chamber): ChamberFigures["wintering"] {
  const days = exposure.seenMs / DAY_MS;
  const { storageDays } = profileIn(chamber);
  const verdict = winterVerdict(days, exposure.reserveDays, storageDays.value.high);
  return verdict && { ...verdict, days };
}

type WaterFigures = Pick<
  ChamberFigures,
  | "humidityFrom"
  | "cocoonHumidityPct"
  | "cocoonHumiditySpanPct"
  | "humidityInBandShare"
  | "wetHours"
  | "mouldIndex"
  | "deficitHpaH"
  | "dryOn"
>;

const NO_WATER: WaterFigures = {
  humidityFrom: null,
  cocoonHumidityPct: null,
  cocoonHumiditySpanPct: null,
  humidityInBandShare: null,
  wetHours: null,
  mouldIndex: null,
  deficitHpaH: null,
  dryOn: null,
};

/** The water at the cocoons, of the boxes where a probe in one measures it, else of the air. */
function waterOf(
  { slow, exposure }: ChamberState,
  chamber: Chamber,
  dampedMs: number | null,
): WaterFigures {
  const { places, water } = slow;
  const boxes = places.filter((p) => p.probeId !== null);
  const told = boxes.length > 0 ? boxes : places;
  const driest = told.reduce<Climate | null>((a, b) => (a && a.slowPct <= b.slowPct ? a : b), null);
  if (driest === null)
    return { ...NO_WATER, dryOn: dampedMs === null ? null : dampByCalendar(dampedMs) };
  const sum = (read: (place: Climate) => number) => told.reduce((n, p) => n + read(p), 0);
  const knownMs = sum((p) => p.knownMs);
  const { drying } = driest;
  return {
    humidityFrom: boxes.length > 0 ? "box" : "air",
    cocoonHumidityPct: water?.humidityPct ?? null,
    cocoonHumiditySpanPct: {
      low: Math.min(...told.map((p) => p.lowestPct)),
      high: Math.max(...told.map((p) => p.highestPct)),
    },
    humidityInBandShare: knownMs === 0 ? null : sum((p) => p.inBandMs) / knownMs,
    wetHours: Math.max(...told.map((p) => p.wetMs)) / HOUR_MS,
    mouldIndex: Math.max(...told.map((p) => p.mould.index)),
    deficitHpaH: deficitHours(drying),
    dryOn:
      drying.days.length < TREND_DAYS_LEAST
        ? dampByCalendar(drying.dampedMs ?? driest.sinceMs)
        : driesOn(drying.days, chamber.humidityBandPct.low, exposure!.atMs),
  };
}

function lookedOf(tended: Tended, atMs: number): ChamberFigures["mouldLooked"] {
  const sawMs = lastDone(tended, "mould-seen", atMs);
  const noneMs = lastDone(tended, "no-mould", atMs);
  if (sawMs === null && noneMs === null) return null;
  // Seen in one box and in none of the others, at one look, is seen.
  const seen = (sawMs ?? 0) >= (noneMs ?? 0);
  return { atMs: Math.max(sawMs ?? 0, noneMs ?? 0), seen };
}

function darkOf({ unseen }: ChamberState, exposure: Exposure): ChamberFigures["dark"] {
  const hours = (exposure.atMs - exposure.fromMs - exposure.seenMs) / HOUR_MS;
  return { hours: Math.max(0, hours), cocoonSpanC: unseen.boundC, stretches: unseen.stretches };
}

/** The figures of a chamber of which nothing is known. */
export function nothingSeen(chamberId: string): ChamberFigures {
  return {
    chamberId,
    fromMs: null,
    seenHours: 0,
    inBandShare: null,
    cocoonSpanC: null,
    meanKineticC: null,
    degreeHoursAbove: 0,
    degreeHoursBelow: 0,
    reserveDays: null,
    reserveDaysSpan: null,
    chillDays: null,
    wintering: null,
    ...NO_WATER,
    wetSpells: [],
    mouldLooked: null,
    lastDampedMs: null,
    cocoonLag: null,
    warming: null,
    dark: null,
  };
}
