import { closest } from "fastest-levenshtein";
import { KnownError } from "../../shared/errors.js";
import type { Finding } from "../../shared/excursion.js";
import { formatRfc3339 } from "../../shared/rfc3339.js";
import { loadConfig } from "../config.js";
import { judgeReadings, type Summary } from "./replay/judgement.js";
import { type ReadingsFile, readReadingsFile } from "./replay/readings-file.js";
import { showFindings, showSummary } from "./replay/show.js";

/**
 * Judge a CSV of readings and print each finding and the season's figures.
 *
 * Prints nothing of a file that has a bad line: figures of half a winter would be believed.
 *
 * @throws {KnownError} REPLAY_FAULTY naming each bad line
 */
export async function replay(
  configFile: string,
  file: string,
  options: Readonly<{ json?: boolean }>,
): Promise<void> {
  // A winter is judged wherever it was copied to, also where the mail password is not.
  const { site, temperatureUnit } = loadConfig(configFile, { readSecrets: false });
  const probeIds = site.probes.map((probe) => probe.id);
  const held = await readReadingsFile(file, probeIds);
  complainOf(held, file, probeIds);
  const findings: Finding[] = [];
  const summary = judgeReadings(held.rows.inOrder(), site, (finding) => findings.push(finding));
  process.stdout.write(
    options.json === true
      ? jsonLines(findings, summary)
      : `${showFindings(findings, site, temperatureUnit)}\n\n${showSummary(summary)}\n`,
  );
}

function complainOf(held: ReadingsFile, file: string, probeIds: readonly string[]): void {
  for (const [probe, count] of held.strangers) {
    const nearest = probeIds.length === 0 ? "" : `, nearest is ${closest(probe, [...probeIds])}`;
    const rows = count === 1 ? "1 row" : `${count} rows`;
    process.stderr.write(
      `drowse: ${file}: ${rows} of ${probe}, no probe of the config${nearest}; left out\n`,
    );
  }
  if (held.implausible > 0)
    process.stderr.write(
      `drowse: ${file}: ${held.implausible} values no probe can have measured; left out\n`,
    );
  if (held.faultCount > 0) {
    const more = held.faultCount - held.faults.length;
    const lines = [...held.faults, ...(more > 0 ? [`and ${more} more`] : [])];
    const count = held.faultCount === 1 ? "1 bad line" : `${held.faultCount} bad lines`;
    const list = lines.map((line) => `  ${line}`).join("\n");
    throw new KnownError("REPLAY_FAULTY", `${file} has ${count}, nothing was judged\n${list}`);
  }
  if (held.rows.count() === 0)
    throw new KnownError("REPLAY_FAULTY", `${file} has no reading of a probe in the config`);
}

function jsonLines(findings: readonly Finding[], summary: Summary): string {
  const lines = findings.map((finding) => ({
    at: formatRfc3339(finding.atMs),
    chamber: finding.chamberId,
    probe: finding.probeId,
    excursion: finding.excursionId,
    change: finding.change,
    cause: finding.cause,
    urgency: finding.urgency,
    cocoonC: finding.cocoonC,
    airC: finding.airC,
    cost: finding.cost,
  }));
  return [...lines, { summary }].map((line) => `${JSON.stringify(line)}\n`).join("");
}
