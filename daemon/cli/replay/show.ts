import type { Finding } from "../../../shared/excursion.js";
import type { Site } from "../../../shared/site.js";
import { numberWords, temperatureWords } from "../../letters/temperature-words.js";
import { clockWords, dateWords } from "../../letters/time-words.js";
import { layTable } from "../table.js";
import type { Summary } from "./judgement.js";

/** Findings as a table, in the site's time zone and the keeper's unit. */
export function showFindings(findings: readonly Finding[], site: Site, unit: "C" | "F"): string {
  if (findings.length === 0) return "Nothing to tell: no excursion.";
  const degrees = (value: number | null) => (value === null ? "" : temperatureWords(value, unit));
  const rows = findings.map((finding) => [
    `${dateWords(finding.atMs, site.timezone)} ${clockWords(finding.atMs, site.timezone)}`,
    finding.chamberId ?? finding.probeId ?? "",
    finding.change,
    finding.cause,
    finding.urgency,
    degrees(finding.cocoonC),
    degrees(finding.airC),
  ]);
  return layTable(["told", "chamber", "change", "cause", "urgency", "cocoons", "air"], rows);
}

/** The season's figures, one line each under their chamber. */
export function showSummary(summary: Summary): string {
  return Object.entries(summary)
    .map(([chamberId, figures]) => {
      const rows = Object.entries(figures).map(([name, value]) => [
        `  ${name}`,
        typeof value === "number" ? numberWords(value, 3) : (value ?? "not known"),
      ]);
      return layTable([chamberId, ""], rows);
    })
    .join("\n\n");
}
