import type { ChamberFigures } from "../../../rules/season.js";
import type { Site } from "../../../shared/site.js";
import type { TemperatureUnit } from "../../letters/temperature-words.js";
import { constantRows, seasonHeading, seasonRows } from "../../season/season-words.js";
import { layTable } from "../table.js";

/** The season of each chamber that was seen, and what it has taught of itself. */
export function showSeason(
  season: readonly ChamberFigures[],
  site: Site,
  unit: TemperatureUnit,
): string {
  const parts = site.chambers.flatMap((chamber) => {
    const figures = season.find(({ chamberId }) => chamberId === chamber.id);
    if (figures === undefined || figures.fromMs === null) return [];
    const wording = { chamber, unit, timezone: site.timezone };
    const rows = [...seasonRows(figures, wording), ...constantRows(figures)];
    const cells = rows.map(({ label, value, remark }) => [`  ${label}`, value, remark ?? ""]);
    return [layTable([seasonHeading(chamber.id), "", ""], cells)];
  });
  return parts.join("\n\n");
}
