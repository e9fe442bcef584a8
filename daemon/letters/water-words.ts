import { criticalHumidityPct, weeksToFirstMould } from "../../rules/mould.js";
import type { Finding } from "../../shared/excursion.js";
import type { Site } from "../../shared/site.js";
import { DAY_MS } from "../../shared/time.js";
import type { Figure } from "./body.js";
import { numberWords } from "./temperature-words.js";
import { dayWords } from "./time-words.js";

const WATER_CAUSES = ["damp", "condensation", "mould", "dry"];

/** Whether an excursion is about the water at the cocoons. */
export function isOfWater({ cause }: Pick<Finding, "cause">): boolean {
  return WATER_CAUSES.includes(cause);
}

/** What the cocoons feel of the water, for a letter about it. */
export function waterFigures(finding: Finding, site: Site): Figure[] {
  const { cocoonHumidityPct, humidityFrom, mouldIndex } = finding.beside ?? {};
  const figures: Figure[] = [];
  if (cocoonHumidityPct != null) {
    const known = humidityFrom === "box" ? "measured in a box" : "reckoned from the air";
    const band = site.chambers.find(({ id }) => id === finding.chamberId)?.humidityBandPct;
    const beside = band && `; their band is ${band.low} to ${band.high} %`;
    const value = `${numberWords(cocoonHumidityPct, 0)} %`;
    const remark = `over the last hours, ${known}${beside ?? ""}`;
    figures.push({ label: "Humidity at the cocoons", value, remark });
  }
  if (mouldIndex != null && finding.cause !== "dry") {
    const value = `${numberWords(mouldIndex, 1)} of 6`;
    figures.push({
      label: "Mould index",
      value,
      remark: "1 is what a microscope first shows on pine",
    });
  }
  return figures;
}

/** How long there is, in sentences: days, for water. */
export function waterAhead(finding: Finding, site: Site): string[] {
  if (finding.cause === "dry")
    return [
      "There is no hurry of hours. Do it within a day or two; how fast cocoons lose water is not known.",
      ...dryOnSentence(finding, site),
    ];
  if (finding.cause === "mould") return ["Do it today or tomorrow: mould that has begun goes on."];
  if (finding.cause === "condensation")
    return ["Do it today: mould begins where water stays, though not within hours."];
  return ["There is no hurry of hours. Do it within a day or two.", mouldWeeks(finding)];
}

/** How soon the model lets mould begin at the present damp. */
function mouldWeeks({ beside, cocoonC }: Finding): string {
  const humidityPct = Math.min(100, beside?.cocoonHumidityPct ?? 0);
  const isRisk =
    cocoonC !== null &&
    cocoonC > 0 &&
    humidityPct >= criticalHumidityPct(cocoonC, "very-sensitive");
  if (!isRisk)
    return "On pine wood mould would not begin at this humidity; pollen and what bees leave in their cocoons may feed it sooner.";
  const weeks = Math.max(1, Math.round(weeksToFirstMould(cocoonC, humidityPct)));
  return `If it stays so damp, mould on pine wood would begin in about ${weeks} ${weeks === 1 ? "week" : "weeks"}; on cocoons perhaps sooner.`;
}

function dryOnSentence({ beside, atMs }: Finding, site: Site): string[] {
  const dryOnMs = beside?.dryOnMs ?? null;
  if (dryOnMs === null || dryOnMs - atMs < DAY_MS) return [];
  return [
    `By its trend the box falls below its band on about ${dayWords(dryOnMs, site.timezone)}.`,
  ];
}

/** What the keeper did to the paper, where that bears on it. */
export function dampedSentence({ beside, startedAtMs, cause }: Finding, site: Site): string[] {
  const dampedMs = beside?.dampedMs ?? null;
  if (cause !== "damp" || dampedMs === null || startedAtMs - dampedMs > DAMPING_TELLS_MS) return [];
  const day = dayWords(dampedMs, site.timezone);
  return [`You noted on ${day} that you damped the paper; by now that no longer explains it.`];
}

/** An older damping has nothing to do with it; our choice. */
const DAMPING_TELLS_MS = 14 * DAY_MS;

/** What the figures mean and how far they go, in a sentence each. */
export function waterMeaning({ cause }: Pick<Finding, "cause">): string[] {
  const index =
    "The mould index says how far growth has come on a scale of 0 to 6, by a model that was made for pine wood in buildings and that nobody has checked on cocoons or paper, or near 0 °C; it compares one box or week with another.";
  const humidity =
    "Humidity at the cocoons is what the air there would show at the cocoons' own temperature; at 100 % water settles on them.";
  const band =
    "The humidity band is common practice; no experiment on mason bees that proves it was found.";
  if (cause === "mould") return [index, humidity];
  if (cause === "dry") return [humidity, band];
  return cause === "condensation" ? [humidity] : [humidity, index];
}
