import type { Fridge } from "../../../sensors/simulated/fridge.js";
import { judgePlainly } from "./baseline.js";
import { type Course, courseOfSeed } from "./calendar.js";
import { type Figures, sumScores } from "./figures.js";
import { parOf, type Score, scoreWinter, type Told } from "./score.js";
import { headTable, rowTable } from "./table.js";
import { type Judge, tellWinter } from "./tell.js";
import { rowWater, type WaterTold, WaterTruth } from "./water.js";
import { liveWinter, type Winter } from "./winter.js";

/** What to measure. `print` gets each line as it is ready; `keep` sees each winter judged. */
export type BenchPlan = Readonly<{
  fridges: readonly Fridge[];
  seeds: readonly number[];
  intervalMs: number;
  humidity: boolean;
  /** A probe in the box beside the one in the air. Default: none. */
  box?: boolean;
  /** What happens in a winter. Default: the plain course. */
  course?: Course;
  judge: Judge;
  print?: (line: string) => void;
  keep?: (winter: Winter, told: readonly Told[], score: Score) => void;
}>;

/** Marks of the judge and of the plain rule, on the same winters. */
export type BenchResult = Readonly<{ drowse: Figures; plain: Figures; slowestMillions: number }>;

/** Live through a winter for each fridge and seed, and mark the judge beside the plain rule. */
export function benchWinters(plan: BenchPlan): BenchResult {
  const print = plan.print ?? (() => {});
  const par = parOf(plan.intervalMs, plan.humidity);
  const all: { drowse: Score[]; plain: Score[] } = { drowse: [], plain: [] };
  const waterTold: WaterTold[] = [];
  let slowestMillions = Number.POSITIVE_INFINITY;
  print(headTable());
  for (const fridge of plan.fridges) {
    const own: { drowse: Score[]; plain: Score[] } = { drowse: [], plain: [] };
    for (const seed of plan.seeds) {
      const { intervalMs, humidity, box = false } = plan;
      const course = courseOfSeed(seed, plan.course);
      const spec = { fridge, seed, outfit: { intervalMs, humidity, box }, course };
      const water = new WaterTruth();
      const winter = liveWinter(spec, (sample) => water.look(sample));
      const { told, millions } = tellWinter(winter, plan.judge);
      slowestMillions = Math.min(slowestMillions, millions);
      const score = scoreWinter(winter.labels, told, par);
      own.drowse.push(score);
      waterTold.push(...water.mark(told));
      const plainly = judgePlainly(winter.readings, winter.site, winter.endMs);
      own.plain.push(scoreWinter(winter.labels, plainly, par));
      plan.keep?.(winter, told, score);
    }
    print(rowTable(fridge.name, "drowse", sumScores(own.drowse)));
    print(rowTable("", "plain", sumScores(own.plain)));
    all.drowse.push(...own.drowse);
    all.plain.push(...own.plain);
  }
  const result = { drowse: sumScores(all.drowse), plain: sumScores(all.plain), slowestMillions };
  print(rowTable("all", "drowse", result.drowse));
  print(rowTable("", "plain", result.plain));
  print(rowWater(waterTold, result.drowse.winters));
  return result;
}
