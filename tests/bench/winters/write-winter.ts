import { mkdirSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { stringify } from "csv-stringify/sync";
import type { Reading } from "../../../shared/reading.js";
import type { Site } from "../../../shared/site.js";
import type { Winter } from "./labelled.js";
import type { Told } from "./score.js";

/**
 * Write a winter into `folder`: `readings.csv` for replay, `drowse.toml` to judge it by,
 * `labels.json` with what was wrong when, and `told.json` with what the judge made of it.
 */
export function writeWinter(winter: Winter, folder: string, told: readonly Told[]): void {
  mkdirSync(folder, { recursive: true });
  const head = ["time", "probe", "temperature_c", "humidity_pct"];
  const rows = winter.readings.map(toRow);
  writeFileSync(join(folder, "readings.csv"), stringify([head, ...rows]));
  writeFileSync(join(folder, "drowse.toml"), writeConfig(winter.site, winter.humidity));
  writeFileSync(join(folder, "labels.json"), toJson(winter.labels));
  writeFileSync(join(folder, "told.json"), toJson(told));
}

function toRow({ takenAtMs, probeId, temperatureC, humidityPct }: Reading): string[] {
  const time = new Date(takenAtMs).toISOString();
  return [time, probeId, temperatureC?.toString() ?? "", humidityPct?.toString() ?? ""];
}

/** Times as RFC 3339 beside the milliseconds would be two truths; keys ending in Ms stay numbers. */
function toJson(value: unknown): string {
  return `${JSON.stringify(value, null, 1)}\n`;
}

function writeConfig(site: Site, humidity: boolean): string {
  const chambers = site.chambers.map(
    (c) => `[[chamber]]
id = "${c.id}"
species = "${c.species}"
band_c = [${c.bandC.low}, ${c.bandC.high}]
humidity_band_pct = [${c.humidityBandPct.low}, ${c.humidityBandPct.high}]
`,
  );
  const probes = site.probes.map(
    (p) => `[[probe]]
id = "${p.id}"
chamber = "${p.chamberId}"
place = "${p.place}"
topic = "quillmere/${p.chamberId}/${p.place}"
payload = "json"
temperature = "/temperature"
${humidity ? 'humidity = "/humidity"\n' : ""}unit = "C"
interval_s = ${p.intervalMs / 1_000}
`,
  );
  return `[site]
name = "${site.name}"
timezone = "${site.timezone}"
temperature_unit = "C"
keepers = ["keeper@example.org"]

[broker]
embedded = "127.0.0.1:1883"

[store]
folder = "state"

${[...chambers, ...probes].join("\n")}`;
}
