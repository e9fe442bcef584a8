import { join } from "node:path";
import { beginJudge, stepJudge } from "../../../rules/judge.js";
import type { Fridge } from "../../../sensors/simulated/fridge.js";
import { makeFridge, type Sketch } from "../../../sensors/simulated/make.js";
import { NAMED_SKETCHES } from "../../../sensors/simulated/named-fridges.js";
import { drawFridge } from "../../../sensors/simulated/random-fridge.js";
import { SECOND_MS } from "../../../shared/time.js";
import { asked } from "../numbers.js";
import { HARD_COURSE, PLAIN_COURSE, YOUNG_COURSE } from "./calendar.js";
import { explainScore } from "./explain.js";
import { type Options, readOptions, refuseApart, USAGE } from "./options.js";
import { plainly } from "./plain-fridge.js";
import { benchWinters } from "./run.js";
import { apartWinters, type Source, simulatedWinters } from "./source.js";
import { writeWinter } from "./write-winter.js";

const COURSES = { plain: PLAIN_COURSE, hard: HARD_COURSE, young: YOUNG_COURSE };

const options = asked(readOptions);
const refusal = refuseApart(options) ?? refuseFridge(options);
if (options.help) console.log(USAGE);
else if (refusal !== null) {
  console.error(refusal);
  process.exitCode = 2;
} else run(options);

function run(options: Options): void {
  const kind = options.young ? "young" : options.hard ? "hard" : "plain";
  const humidity = !options["no-humidity"];
  const intervalMs = options.interval * SECOND_MS;
  const first = options["from-seed"];
  const seeds = countFrom(first, options.seeds);
  const source: Source =
    options.apart === undefined
      ? simulatedWinters({
          fridges: chooseFridges(options, first),
          seeds,
          intervalMs,
          humidity,
          box: options.box,
          course: COURSES[kind],
        })
      : apartWinters(countFrom(first, options.apart), { intervalMs, humidity });
  const print = (line: string) => console.log(line);
  print(
    `a reading each ${options.interval} s, ${humidity ? "with" : "without"} humidity, ` +
      `${options.box ? "air and box" : "air only"}, ${options.apart === undefined ? kind : "apart"}, ` +
      `${seeds.length} winter(s) a fridge`,
  );
  const result = benchWinters({
    source,
    intervalMs,
    humidity,
    judge: { begin: beginJudge, step: stepJudge },
    print,
    keep: (winter, told, score) => {
      if (options.misses) for (const line of explainScore(winter, score)) print(line);
      if (options.write === undefined) return;
      const name = `${winter.fridgeName.replaceAll(" ", "-")}-${winter.seed}`;
      writeWinter(winter, join(options.write, name), told);
    },
  });
  print(`judged at least ${result.slowestMillions.toFixed(2)} million readings a second`);
}

function countFrom(first: number, count: number): number[] {
  return Array.from({ length: count }, (_, i) => first + i);
}

function namedLike(word: string): Sketch[] {
  return NAMED_SKETCHES.filter(({ name }) => name.includes(word));
}

/** Why no fridge is meant, as a sentence; null where one is. */
function refuseFridge({ fridge }: Options): string | null {
  if (namedLike(fridge).length > 0) return null;
  const names = NAMED_SKETCHES.map(({ name }) => name).join(", ");
  return `--fridge is ${fridge}, but no name holds that; they are ${names}`;
}

function chooseFridges({ hard, drawn, fridge }: Options, first: number): Fridge[] {
  const alter = hard ? (sketch: Sketch) => sketch : plainly;
  if (drawn > 0) return countFrom(first, drawn).map((seed) => drawFridge(seed, alter));
  return namedLike(fridge).map((sketch) => makeFridge(alter(sketch)));
}
