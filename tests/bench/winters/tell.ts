import type { beginJudge, JudgeEvent, JudgeState, stepJudge } from "../../../rules/judge.js";
import { MINUTE_MS } from "../../../shared/time.js";
import type { Winter } from "./labelled.js";
import type { Told } from "./score.js";

/** A judgement as a fold: a beginning and a step. */
export type Judge = Readonly<{ begin: typeof beginJudge; step: typeof stepJudge }>;

/** How often time moves on without a reading, as the daemon's clock does. */
const TICK_MS = MINUTE_MS;

/** What a judge told in a winter, readings in time order with a tick each minute between. */
export function tellWinter(winter: Winter, judge: Judge): { told: Told[]; millions: number } {
  const { site, readings } = winter;
  let state: JudgeState = judge.begin(site);
  const told: Told[] = [];
  let tickMs = winter.startMs;
  const step = (event: JudgeEvent): void => {
    const stepped = judge.step(state, event, site);
    state = stepped.state;
    for (const finding of stepped.findings) told.push(finding);
  };
  const began = performance.now();
  for (const reading of readings) {
    for (; tickMs < reading.takenAtMs; tickMs += TICK_MS) step({ kind: "tick", atMs: tickMs });
    step({ kind: "reading", reading });
  }
  for (; tickMs <= winter.endMs; tickMs += TICK_MS) step({ kind: "tick", atMs: tickMs });
  const seconds = (performance.now() - began) / 1_000;
  return { told, millions: readings.length / seconds / 1e6 };
}
