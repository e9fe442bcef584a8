import { beginJudge, type JudgeEvent, stepJudge } from "../../rules/judge.js";
import { draw, seeded } from "../../sensors/simulated/seeded.js";
import type { Probe, Site } from "../../shared/site.js";
import { DAY_MS, SECOND_MS } from "../../shared/time.js";
import { type Shares, sharesOf } from "./judge-shares.js";

const INTERVAL_MS = 10 * SECOND_MS;
const WINTER_DAYS = 180;
/** Enough for a share to be off by a few tenths of a percent. */
const PROFILED_DAYS = 60;
const PLACES = ["air", "box", "wall", "room"] as const;

/** A fridge with four probes, each heard every ten seconds. */
const SITE: Site = {
  name: "Quillmere shed",
  timezone: "Europe/London",
  chambers: [
    {
      id: "shed",
      species: "osmia-bicornis",
      bandC: { low: 1.1, high: 3.3 },
      humidityBandPct: { low: 60, high: 70 },
      cocoonLagMs: null,
    },
  ],
  probes: PLACES.map(
    (place): Probe => ({ id: `shed-${place}`, chamberId: "shed", place, intervalMs: INTERVAL_MS }),
  ),
};

/** Readings of a fridge that swings by ±1.5 K in 40 minutes, with the odd opening. */
function* readings(days: number): Generator<JudgeEvent> {
  const random = seeded(1, "bench");
  const steps = (days * DAY_MS) / INTERVAL_MS;
  let openC = 0;
  for (let i = 0; i < steps; i++) {
    const takenAtMs = Date.UTC(2025, 10, 1) + i * INTERVAL_MS;
    const phase = (i / 240) % 1;
    const swing = phase < 0.6 ? phase / 0.3 - 1 : 1 - (phase - 0.6) / 0.2;
    openC = draw(random) < 6 / 8640 ? 5 : openC * 0.97;
    const airC = Math.round((2.2 + 1.5 * swing + openC + 0.1 * draw(random)) * 10) / 10;
    // None stands still: a probe that does is no probe to be believed.
    const values = [airC, 2.2, 1.4, 17].map((c, k) =>
      k === 0 ? c : Math.round((c + 0.1 * draw(random)) * 10) / 10,
    );
    for (const [k, { id: probeId }] of SITE.probes.entries()) {
      const humidityPct = k < 2 ? 65 : null;
      const reading = { probeId, takenAtMs, temperatureC: values[k]!, humidityPct };
      yield { kind: "reading", reading };
    }
  }
}

/** Seconds that it takes to go through the events, doing nothing or judging. */
function secondsOf(days: number, judges: boolean): { seconds: number; count: number } {
  let state = beginJudge(SITE);
  let count = 0;
  const before = process.cpuUsage();
  for (const event of readings(days)) {
    count++;
    if (judges) state = stepJudge(state, event, SITE).state;
  }
  const { user, system } = process.cpuUsage(before);
  return { seconds: (user + system) / 1e6, count };
}

/** Measure the judging rate over a winter of four probes at 10 s; CPU time, one core. */
export function benchJudge(): void {
  secondsOf(5, true);
  const bare = secondsOf(WINTER_DAYS, false);
  const judged = secondsOf(WINTER_DAYS, true);
  const seconds = judged.seconds - bare.seconds;
  console.log(`judging ${judged.count} readings, four probes each 10 s for ${WINTER_DAYS} days`);
  console.log(`  making the readings alone   ${bare.seconds.toFixed(1)} s CPU`);
  console.log(`  judging them                ${seconds.toFixed(1)} s CPU (at most 15)`);
  const rate = Math.round(judged.count / seconds / 1000);
  console.log(`  rate                        ${rate} thousand readings/s (at least 500)`);
  showShares(sharesOf(() => void secondsOf(PROFILED_DAYS, true)));
}

function showShares({ samples, byRule }: Shares): void {
  console.log(`  of which, by ${samples} samples over ${PROFILED_DAYS} days`);
  for (const [rule, met] of [...byRule].sort(([, a], [, b]) => b - a))
    console.log(`    ${rule.padEnd(26)}${((100 * met) / samples).toFixed(1).padStart(5)} %`);
}

if (process.argv[1]?.endsWith("bench/judge.js")) benchJudge();
