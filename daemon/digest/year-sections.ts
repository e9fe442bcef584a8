import type { Due } from "../../rules/year/due.js";
import { dueCautions, dueSection, releaseSection } from "../due/due-words.js";
import type { YearReport } from "../due/gather-due.js";
import { remarkSentence } from "../journal/lot-words.js";
import type { Section } from "../letters/body.js";
import { oneLine } from "../letters/one-line.js";
import type { TemperatureUnit } from "../letters/temperature-words.js";

/** The keeper's year as a digest tells it. */
export type DigestYear = YearReport & Readonly<{ warmC: number }>;

/** Until the digest after the next, so that nothing falls due between two. */
const WITHIN_DAYS = 14;

/**
 * What is to be done by today and is not done. A probe that was never checked is not among it: that
 * has no day of its own, and would lead every digest until it is done.
 */
export function lateIn(year: DigestYear | null): readonly Due[] {
  if (year === null) return [];
  return year.due.filter(
    (due) =>
      due.on <= year.today && due.kind !== "storage-ends" && !(due.kind === "check" && due.isFirst),
  );
}

/** What is due, whether to let go, and what is to be said of single lots. */
export function yearSections(year: DigestYear, unit: TemperatureUnit): readonly Section[] {
  const { release, lots, warmC } = year;
  const due = dueSection(year, WITHIN_DAYS);
  const points = lots.flatMap(({ lot, remarks }) =>
    remarks.map((remark) => `${oneLine(lot.id, 60)}: ${remarkSentence(remark, unit)}`),
  );
  const isNews =
    release !== null &&
    (release.word !== "hold" || release.lots.some(({ verdict }) => verdict.isFalseSpring));
  return [
    ...(due === null ? [] : [due]),
    ...(isNews ? [releaseSection(release, unit, warmC)] : []),
    ...(points.length === 0 ? [] : [{ heading: "Lots", sentences: [], points, figures: [] }]),
  ];
}

/** What to take care of with what is late; each once. */
export function yearCautions(year: DigestYear | null): string[] {
  return [...new Set(lateIn(year).flatMap(dueCautions))];
}
