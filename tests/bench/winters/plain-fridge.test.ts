import { expect, test } from "vitest";
import { makeFridge } from "../../../sensors/simulated/make.js";
import { NAMED_SKETCHES } from "../../../sensors/simulated/named-fridges.js";
import { outfitChamber } from "../../../sensors/simulated/outfit.js";
import { simulate } from "../../../sensors/simulated/simulation.js";
import { plainly } from "./plain-fridge.js";

const DAY_MS = 86_400_000;
const OUTFIT = { intervalMs: 60_000, humidity: false, box: false };

type Defrost = { minutes: number; riseK: number };

/** How long each defrost of five quiet days heats, and how far the true air rises meanwhile. */
function defrostsOf(fridge: ReturnType<typeof makeFridge>): Defrost[] {
  const probes = outfitChamber(fridge, 1, "shed", OUTFIT);
  const plan = { fridge, seed: 1, startMs: 0, endMs: 5 * DAY_MS, probes, script: [] };
  const defrosts: Defrost[] = [];
  let fromC: number | null = null;
  for (const { truth } of simulate(plan)) {
    if (!truth.defrosting) fromC = null;
    else if (fromC === null) {
      fromC = truth.airC;
      defrosts.push({ minutes: 1, riseK: 0 });
    } else {
      const last = defrosts.at(-1)!;
      last.minutes++;
      last.riseK = Math.max(last.riseK, truth.airC - fromC);
    }
  }
  return defrosts;
}

test.each(NAMED_SKETCHES.map((s) => [s.name, s] as const))(
  "defrosts of a plain %s take up to half an hour and warm the air by some kelvins",
  (_name, sketch) => {
    const defrosts = defrostsOf(makeFridge(plainly(sketch)));
    // Two to four a day; fewer here by an adaptive timer, which counts openings too.
    expect(defrosts.length).toBeGreaterThanOrEqual(6);
    expect(defrosts.length).toBeLessThanOrEqual(21);
    const middle = (values: number[]) => values.sort((a, b) => a - b)[values.length >> 1]!;
    const minutes = middle(defrosts.map((d) => d.minutes));
    expect(minutes).toBeGreaterThanOrEqual(7);
    expect(Math.max(...defrosts.map((d) => d.minutes))).toBeLessThanOrEqual(30);
    // 3 to 8 K above the top of a cycle is what is tuned; from where it began, within it, a little
    // more or less.
    const riseK = middle(defrosts.map((d) => d.riseK));
    expect(riseK).toBeGreaterThanOrEqual(2.5);
    expect(riseK).toBeLessThanOrEqual(10);
  },
);
