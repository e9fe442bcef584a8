import { join } from "node:path";
import { beginJudge, stepJudge } from "../../../rules/judge.js";
import type { Fridge } from "../../../sensors/simulated/fridge.js";
import { makeFridge, type Sketch } from "../../../sensors/simulated/make.js";
import { NAMED_SKETCHES } from "../../../sensors/simulated/named-fridges.js";
import { drawFridge } from "../../../sensors/simulated/random-fridge.js";
import { SECOND_MS } from "../../../shared/time.js";
import { HARD_COURSE, PLAIN_COURSE, YOUNG_COURSE } from "./calendar.js";
import { explainScore } from "./explain.js";
import { type Options, readOptions, refuseApart, USAGE } from "./options.js";
import { plainly } from "./plain-fridge.js";
import { benchWinters } from "./run.js";
import { apartWinters, type Source, simulatedWinters } from "./source.js";
import { writeWinter } from "./write-winter.js";

const COURSES = { plain: PLAIN_COURSE, hard: HARD_COURSE, young: YOUNG_COURSE };

const options = readOptions(process.argv.slice(2));
const refusal = refuseApart(options);
if (options.help) console.log(USAGE);
else if (refusal !== null) {
  console.error(refusal);
  process.exitCode = 2;
} else run(options);

function run(asked: Options): void {
  const kind = asked.young ? "young" : asked.hard ? "hard" : "plain";
  const humidity = !asked["no-humidity"];
  const intervalMs = Number(asked.interval) * SECOND_MS;
  const first = Number(asked["from-seed"]);
  const seeds = countFrom(first, Number(asked.seeds));
  const source: Source =
    asked.apart === undefined
      ? simulatedWinters({
          fridges: chooseFridges(asked, first),
          seeds,
          intervalMs,
          humidity,
          box: asked.box,
          course: COURSES[kind],
        })
      : apartWinters(countFrom(first, Number(asked.apart)), { intervalMs, humidity });
  const print = (line: string) => console.log(line);
  print(
    `a reading each ${asked.interval} s, ${humidity ? "with" : "without"} humidity, ` +
      `${asked.box ? "air and box" : "air only"}, ${asked.apart === undefined ? kind : "apart"}, ` +
      `${seeds.length} winter(s) a fridge`,
  );
  const result = benchWinters({
    source,
    intervalMs,
    humidity,
    judge: { begin: beginJudge, step: stepJudge },
    print,
    keep: (winter, told, score) => {
      if (asked.misses) for (const line of explainScore(winter, score)) print(line);
      if (asked.write === undefined) return;
      const name = `${winter.fridgeName.replaceAll(" ", "-")}-${winter.seed}`;
      writeWinter(winter, join(asked.write, name), told);
    },
  });
  print(`judged at least ${result.slowestMillions.toFixed(2)} million readings a second`);
}

function countFrom(first: number, count: number): number[] {
  return Array.from({ length: count }, (_, i) => first + i);
}

function chooseFridges({ hard, drawn, fridge }: Options, first: number): Fridge[] {
  const alter = hard ? (sketch: Sketch) => sketch : plainly;
  const count = Number(drawn);
  if (count > 0) return countFrom(first, count).map((seed) => drawFridge(seed, alter));
  const named = NAMED_SKETCHES.filter(({ name }) => name.includes(fridge));
  return named.map((sketch) => makeFridge(alter(sketch)));
}
