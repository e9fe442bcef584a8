import { askedNumbers } from "../numbers.js";
import { runKills } from "./kill-run.js";

/*
 * Kills `drowse keep` a thousand times at random moments under load. Whatever was lost, came
 * twice or was damaged ends it with a failure. `--kills N` for another number, `--from-seed N` for
 * other moments.
 */

const { kills, "from-seed": seed } = askedNumbers({ kills: 1_000, "from-seed": 1883 });
const TELL_EACH = 100;

const startedMs = performance.now();
const run = await runKills(kills, seed, (done) => {
  if (done % TELL_EACH === 0) console.log(`${done} kills`);
});
const minutes = (performance.now() - startedMs) / 60_000;
console.log(
  `${run.kills} kills in ${minutes.toFixed(0)} min: ${run.readings} readings, each there once; ` +
    `${run.excursions} excursions and ${run.letters} letters as without kills; integrity ok`,
);
