import { judgePlainly } from "./baseline.js";
import { type Figures, sumScores } from "./figures.js";
import type { Winter } from "./labelled.js";
import { parOf, type Score, scoreWinter, type Told } from "./score.js";
import type { Source } from "./source.js";
import { headTable, rowTable } from "./table.js";
import { type Judge, tellWinter } from "./tell.js";
import { rowWater, type WaterTold } from "./water.js";

/** What to measure. `print` gets each line as it is ready; `keep` sees each winter judged. */
export type BenchPlan = Readonly<{
  source: Source;
  /** How the source's probes speak, by which the marks go. */
  intervalMs: number;
  humidity: boolean;
  judge: Judge;
  print?: (line: string) => void;
  keep?: (winter: Winter, told: readonly Told[], score: Score) => void;
}>;

/** Marks of the judge and of the plain rule, on the same winters. */
export type BenchResult = Readonly<{ drowse: Figures; plain: Figures; slowestMillions: number }>;

/**
 * Live through each winter of the source, and mark the judge beside the plain rule. The row of
 * water is left out where a winter does not tell the truth of it.
 */
export function benchWinters(plan: BenchPlan): BenchResult {
  const print = plan.print ?? (() => {});
  const par = parOf(plan.intervalMs, plan.humidity);
  const all: { drowse: Score[]; plain: Score[] } = { drowse: [], plain: [] };
  const waterTold: WaterTold[] = [];
  let waterKnown = true;
  let slowestMillions = Number.POSITIVE_INFINITY;
  print(headTable());
  for (const { name, winters } of plan.source) {
    const own: { drowse: Score[]; plain: Score[] } = { drowse: [], plain: [] };
    for (const live of winters) {
      const { winter, water } = live();
      const { told, millions } = tellWinter(winter, plan.judge);
      slowestMillions = Math.min(slowestMillions, millions);
      const score = scoreWinter(winter.labels, told, par);
      own.drowse.push(score);
      if (water === null) waterKnown = false;
      else waterTold.push(...water.mark(told));
      const plainly = judgePlainly(winter.readings, winter.site, winter.endMs);
      own.plain.push(scoreWinter(winter.labels, plainly, par));
      plan.keep?.(winter, told, score);
    }
    print(rowTable(name, "drowse", sumScores(own.drowse)));
    print(rowTable("", "plain", sumScores(own.plain)));
    all.drowse.push(...own.drowse);
    all.plain.push(...own.plain);
  }
  const result = { drowse: sumScores(all.drowse), plain: sumScores(all.plain), slowestMillions };
  print(rowTable("all", "drowse", result.drowse));
  print(rowTable("", "plain", result.plain));
  if (waterKnown) print(rowWater(waterTold, result.drowse.winters));
  return result;
}
