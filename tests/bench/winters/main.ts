import { join } from "node:path";
import { parseArgs } from "node:util";
import { beginJudge, stepJudge } from "../../../rules/judge.js";
import { makeFridge, type Sketch } from "../../../sensors/simulated/make.js";
import { NAMED_SKETCHES } from "../../../sensors/simulated/named-fridges.js";
import { drawFridge } from "../../../sensors/simulated/random-fridge.js";
import { SECOND_MS } from "../../../shared/time.js";
import { HARD_COURSE, PLAIN_COURSE, YOUNG_COURSE } from "./calendar.js";
import { explainScore } from "./explain.js";
import { plainly } from "./plain-fridge.js";
import { benchWinters } from "./run.js";
import { writeWinter } from "./write-winter.js";

const USAGE = `Labelled winters: Drowse's judge beside a plain rule.
  --seeds N        winters for each fridge (default 1)
  --from-seed N    the first seed (default 1)
  --interval S     60 or 300, seconds between readings (default 60)
  --no-humidity    temperature-only probes
  --box            a second probe, in the box
  --fridge WORD    only named fridges whose name holds WORD
  --drawn N        N fridges drawn at random instead of the named ones
  --hard           fridges with abrupt defrosts and narrow gaps; long openings, restocking,
                   power cuts and heat waves too
  --young          five days of a fridge that nobody knows yet, with one door left ajar
  --misses         say what was missed, late, of wrong cause or in vain
  --write DIR      write each winter for replay into DIR`;

const COURSES = { plain: PLAIN_COURSE, hard: HARD_COURSE, young: YOUNG_COURSE };

const { values } = parseArgs({
  options: {
    seeds: { type: "string", default: "1" },
    "from-seed": { type: "string", default: "1" },
    interval: { type: "string", default: "60" },
    "no-humidity": { type: "boolean", default: false },
    box: { type: "boolean", default: false },
    fridge: { type: "string", default: "" },
    drawn: { type: "string", default: "0" },
    hard: { type: "boolean", default: false },
    young: { type: "boolean", default: false },
    misses: { type: "boolean", default: false },
    write: { type: "string" },
    help: { type: "boolean", default: false },
  },
});

if (values.help) console.log(USAGE);
else run();

function run(): void {
  const kind = values.young ? "young" : values.hard ? "hard" : "plain";
  const first = Number(values["from-seed"]);
  const seeds = Array.from({ length: Number(values.seeds) }, (_, i) => first + i);
  const drawn = Number(values.drawn);
  const alter = values.hard ? (sketch: Sketch) => sketch : plainly;
  const fridges =
    drawn > 0
      ? Array.from({ length: drawn }, (_, i) => drawFridge(first + i, alter))
      : NAMED_SKETCHES.filter((s) => s.name.includes(values.fridge)).map((s) =>
          makeFridge(alter(s)),
        );
  const humidity = !values["no-humidity"];
  const intervalMs = Number(values.interval) * SECOND_MS;
  const print = (line: string) => console.log(line);
  print(
    `a reading each ${values.interval} s, ${humidity ? "with" : "without"} humidity, ` +
      `${values.box ? "air and box" : "air only"}, ${kind}, ${seeds.length} winter(s) a fridge`,
  );
  const result = benchWinters({
    fridges,
    seeds,
    intervalMs,
    humidity,
    box: values.box,
    course: COURSES[kind],
    judge: { begin: beginJudge, step: stepJudge },
    print,
    keep: (winter, told, score) => {
      const { fridge, seed } = winter.spec;
      if (values.misses) for (const line of explainScore(winter, score)) print(line);
      if (values.write === undefined) return;
      const name = `${fridge.name.replaceAll(" ", "-")}-${seed}`;
      writeWinter(winter, join(values.write, name), told);
    },
  });
  print(`judged at least ${result.slowestMillions.toFixed(2)} million readings a second`);
}
