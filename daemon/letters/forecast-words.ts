import type { Forecast, Reach } from "../../shared/excursion.js";
import { limitWords, spanWords, type TemperatureUnit } from "./temperature-words.js";

/** Beyond this a forecast says "more than two days": the fit is not worth more (our choice). */
const FARTHEST_MIN = 48 * 60;
const MOST_REACHES = 3;

/** The step, in minutes, to which a wait of this length is rounded (our choice). */
function stepMin(minutes: number): number {
  if (minutes < 90) return 5;
  if (minutes < 4 * 60) return 15;
  return minutes < 12 * 60 ? 30 : 60;
}

type Wait = Readonly<{ value: string; unit: "minutes" | "hours" }>;

function waitOf(minutes: number): Wait {
  if (minutes < 100) return { value: String(minutes), unit: "minutes" };
  const [whole, quarter] = [Math.floor(minutes / 60), (minutes % 60) / 15];
  return { value: `${whole}${["", "¼", "½", "¾"][quarter] ?? ""}`, unit: "hours" };
}

/**
 * How long until something happens, between its earliest and latest, minutes, 0 or more.
 *
 * The early end is rounded down and the late end up, so that rounding never narrows the span:
 * "between 40 and 70 minutes", "less than 10 minutes", "more than two days".
 */
export function waitWords(soonestMin: number, latestMin: number): string {
  if (soonestMin >= FARTHEST_MIN) return "more than two days";
  const soonest = Math.floor(soonestMin / stepMin(soonestMin)) * stepMin(soonestMin);
  const latest = Math.max(5, Math.ceil(latestMin / stepMin(latestMin)) * stepMin(latestMin));
  const early = waitOf(soonest);
  const late = waitOf(latest);
  if (latestMin > FARTHEST_MIN)
    return soonest === 0 ? "up to more than two days" : `at least ${early.value} ${early.unit}`;
  if (soonest === 0) return `less than ${late.value} ${late.unit}`;
  if (latest <= soonest) return `about ${early.value} ${early.unit}`;
  return early.unit === late.unit
    ? `between ${early.value} and ${late.value} ${late.unit}`
    : `between ${early.value} ${early.unit} and ${late.value} ${late.unit}`;
}

/** The reaches that will come, in one sentence: "it is … until …, and … until …". */
function surelySentence(reaches: readonly Reach[], unit: TemperatureUnit): string[] {
  const waits = reaches.flatMap(({ targetC, soonestMin, latestMin }) => {
    if (latestMin === null) return [];
    const from = Math.max(0, soonestMin);
    return [
      `${waitWords(from, Math.max(from, latestMin))} until they reach ${limitWords(targetC, unit)}`,
    ];
  });
  if (waits.length === 0) return [];
  const told = waits.join(", and ").replace("they reach", "the cocoons reach");
  return [`If nothing is done, it is ${told}.`];
}

function perhapsSentence({ targetC, soonestMin }: Reach, unit: TemperatureUnit): string {
  const from = Math.max(0, soonestMin);
  const soonest = waitOf(Math.floor(from / stepMin(from)) * stepMin(from));
  const when =
    soonest.value === "0" ? "at any time" : `in ${soonest.value} ${soonest.unit} or later`;
  return `They may reach ${limitWords(targetC, unit)} ${when}, or never.`;
}

/**
 * How long there is, in sentences; says so where nothing can be told.
 *
 * @param cocoonC where the cocoons are now, °C, so that a limit they are past is left out
 */
export function forecastWords(
  forecast: Forecast | null,
  cocoonC: number | null,
  unit: TemperatureUnit,
): string[] {
  if (forecast === null) return ["How long there is cannot be told at the moment."];
  const settle = forecast.settlesAtC;
  const warming = cocoonC === null || (settle.low + settle.high) / 2 > cocoonC;
  const ahead = (reach: Reach): boolean =>
    cocoonC === null || (warming ? reach.targetC > cocoonC : reach.targetC < cocoonC);
  const reaches = forecast.reaches
    .filter(ahead)
    .toSorted((a, b) => a.soonestMin - b.soonestMin)
    .slice(0, MOST_REACHES);
  const perhaps = reaches.filter((reach) => reach.latestMin === null);
  return [
    ...surelySentence(reaches, unit),
    ...perhaps.map((reach) => perhapsSentence(reach, unit)),
    `Left alone, they would settle at about ${spanWords(settle, unit)}.`,
  ];
}

/**
 * A forecast made a while ago as it stands now: nearer by the minutes gone. A wait whose latest
 * end has passed is dropped, for it did not come true as told; null once nothing is left.
 */
export function laterForecast(forecast: Forecast | null, goneMin: number): Forecast | null {
  if (forecast === null) return null;
  const reaches = forecast.reaches
    .filter((reach) => reach.latestMin === null || reach.latestMin > goneMin)
    .map((reach) => ({
      targetC: reach.targetC,
      soonestMin: Math.max(0, reach.soonestMin - goneMin),
      latestMin: reach.latestMin === null ? null : reach.latestMin - goneMin,
    }));
  return reaches.length === 0 ? null : { ...forecast, reaches };
}
