import { climateLimitsOf } from "../../rules/climate-limits.js";
import type { ChamberFigures } from "../../rules/season.js";
import type { Excursion } from "../../shared/excursion.js";
import type { Chamber, Place, Probe } from "../../shared/site.js";
import { cocoonSeriesId } from "../../shared/site.js";
import type { ProbeStanding } from "../probes/standing.js";
import { heardShareOf } from "./heard-share.js";
import {
  type HourFigures,
  humidityFigures,
  type Stretch,
  temperatureFigures,
  unseenStretches,
} from "./hour-figures.js";
import type { DigestMaterial } from "./material.js";
import type { SeasonFigures } from "./season-figures.js";

/** How well one probe was heard. */
export type ProbeFigures = Readonly<{
  probeId: string;
  chamberId: string | null;
  place: Place;
  readings: number;
  /**
   * Of the readings that its interval promises for the hours in which any probe was heard, 0 to
   * 1; null when there were none such.
   */
  heardShare: number | null;
  lastHeardMs: number | null;
}>;

/** One chamber's week. A quantity that nothing measured is null. */
export type ChamberWeek = Readonly<{
  chamber: Chamber;
  /** As the judge felt them from hour to hour: measured in a box, else reckoned from the air. */
  cocoons: HourFigures | null;
  /** Whether `cocoons` is reckoned from the air, with no probe in a box. */
  isReckoned: boolean;
  air: HourFigures | null;
  /**
   * At the cocoons as the judge reckoned it, else from probes in boxes, else from the air. Its
   * shares are of hours above what is told as damp, and below the band.
   */
  humidity: HourFigures | null;
  isHumidityAtCocoons: boolean;
  /** As the judgement reckoned it, where it was asked to. */
  judged: ChamberFigures | null;
  /** The winter so far, as the judge last wrote it down. */
  season: ChamberFigures | null;
  excursions: readonly Excursion[];
}>;

export type DigestFigures = Readonly<{
  siteName: string;
  fromMs: number;
  toMs: number;
  watchedFromMs: number;
  chambers: readonly ChamberWeek[];
  /** Excursions of probes that belong to no chamber. */
  elsewhere: readonly Excursion[];
  probes: readonly ProbeFigures[];
  /** How far each probe can be believed, in the same order. */
  standings: readonly ProbeStanding[];
  /** Hours in which nothing at all was heard. */
  unseen: readonly Stretch[];
  unseenHours: number;
  /** Deliveries, one for each letter and keeper. */
  mail: Readonly<{ letters: number; sent: number; waiting: number; givenUp: number }>;
  season: SeasonFigures | null;
}>;

function chamberWeek(chamber: Chamber, material: DigestMaterial): ChamberWeek {
  const { site, hours, excursions, week, season } = material;
  const of = (place: Place) => {
    const ids = site.probes
      .filter((probe) => probe.chamberId === chamber.id && probe.place === place)
      .map(({ id }) => id);
    return hours.filter(({ probeId }) => ids.includes(probeId));
  };
  const series = hours.filter(({ probeId }) => probeId === cocoonSeriesId(chamber.id));
  const [box, air] = [of("box"), of("air")];
  const { low } = chamber.humidityBandPct;
  const high = Math.max(low, climateLimitsOf(chamber).dampPct.low);
  const humidity = (rollups: typeof box) => humidityFigures(rollups, { low, high });
  const atCocoons = humidity(series);
  return {
    chamber,
    cocoons: temperatureFigures(series.length > 0 ? series : box, chamber.bandC),
    isReckoned: series.length > 0 && box.length === 0,
    air: temperatureFigures(air, chamber.bandC),
    humidity: atCocoons ?? humidity(box) ?? humidity(air),
    isHumidityAtCocoons: atCocoons !== null,
    judged: week?.chambers.find(({ chamberId }) => chamberId === chamber.id) ?? null,
    season: season?.chambers.find(({ chamberId }) => chamberId === chamber.id) ?? null,
    excursions: excursions.filter(({ chamberId }) => chamberId === chamber.id),
  };
}

function probeFigures(probe: Probe, seenMs: number, material: DigestMaterial): ProbeFigures {
  const { hours, lastHeardMs } = material;
  const readings = hours
    .filter(({ probeId }) => probeId === probe.id)
    .reduce((sum, { count }) => sum + count, 0);
  return {
    probeId: probe.id,
    chamberId: probe.chamberId,
    place: probe.place,
    readings,
    heardShare: heardShareOf(probe, hours, seenMs),
    lastHeardMs: lastHeardMs.get(probe.id) ?? null,
  };
}

function mailFigures({ letters }: DigestMaterial): DigestFigures["mail"] {
  const deliveries = letters.flatMap((letter) => letter.deliveries);
  const sent = deliveries.filter(({ sentAtMs }) => sentAtMs !== null).length;
  const givenUp = deliveries.filter(({ givenUpAtMs }) => givenUpAtMs !== null).length;
  const waiting = deliveries.length - sent - givenUp;
  return { letters: letters.length, sent, waiting, givenUp };
}

/** The figures of a week. Pure; never throws. */
export function digestFigures(material: DigestMaterial): DigestFigures {
  const { site, fromMs, toMs, watchedFromMs, hours, excursions, season } = material;
  const unseen = unseenStretches(hours, { fromMs: watchedFromMs, toMs });
  const unseenMs = unseen.reduce((sum, stretch) => sum + stretch.toMs - stretch.fromMs, 0);
  const seenMs = toMs - watchedFromMs - unseenMs;
  const known = new Set(site.chambers.map(({ id }) => id));
  return {
    siteName: site.name,
    fromMs,
    toMs,
    watchedFromMs,
    chambers: site.chambers.map((chamber) => chamberWeek(chamber, material)),
    elsewhere: excursions.filter(({ chamberId }) => chamberId === null || !known.has(chamberId)),
    probes: site.probes.map((probe) => probeFigures(probe, seenMs, material)),
    standings: material.standings,
    unseen,
    unseenHours: unseenMs / 3_600_000,
    mail: mailFigures(material),
    season,
  };
}
