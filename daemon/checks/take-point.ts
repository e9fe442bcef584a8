import {
  type Sample,
  type Steadiness,
  type SteadyRule,
  steadinessOf,
} from "../../rules/checks/steadiness.js";
import { KnownError } from "../../shared/errors.js";
import { SECOND_MS } from "../../shared/time.js";
import type { Clock } from "../clock.js";
import { durationWords } from "../letters/time-words.js";
import type { LiveReadings } from "./live-readings.js";
import { unsteadyWords, valueIn } from "./steady-rules.js";
import { type Saying, valueWords } from "./words.js";

/** What a point of a check is taken with. */
export type PointPorts = Readonly<{
  live: LiveReadings;
  clock: Clock;
  rule: SteadyRule;
  /** The step in which the probe speaks. */
  step: number;
  waitMs: number;
  saying: Saying;
  /** Told why it is not steady yet, now and then. */
  say(words: string): void;
  /** Called each time that is looked; to say that the check goes on. */
  goesOn(nowMs: number): void;
}>;

const LOOK_EACH_MS = 500;
/** A reason is not said again sooner, unless it is another one. */
const SAY_EACH_MS = 30 * SECOND_MS;
const SAY_ANOTHER_MS = SECOND_MS;
/** Of a steady stretch so many samples become pairs; more say the same again. Our choice. */
const PAIRS_MOST = 20;

/**
 * Wait until the probe is steady, counting only what it says from now on.
 *
 * @returns the newest samples of the steady stretch, oldest first
 * @throws {KnownError} CHECK_UNSTEADY when it is not within the time allowed, saying why not
 */
export async function takePoint(ports: PointPorts): Promise<readonly Sample[]> {
  const { live, clock, rule, step, waitMs, saying } = ports;
  const fromMs = clock.nowMs();
  let said = { words: "", atMs: Number.NEGATIVE_INFINITY };
  for (;;) {
    const readings = live.since(fromMs);
    // A sensor's clock may run ahead of ours.
    const nowMs = Math.max(clock.nowMs(), readings.at(-1)?.takenAtMs ?? 0);
    ports.goesOn(nowMs);
    const samples = readings.flatMap((reading) => {
      const value = valueIn(reading, saying.quantity);
      return value === null ? [] : [{ atMs: reading.takenAtMs, value }];
    });
    const state = stateOf(samples, fromMs, nowMs, rule, step);
    if (state.kind === "steady") return samples.slice(-Math.min(state.samples, PAIRS_MOST));
    const why = unsteadyWords(state, rule, saying);
    if (clock.nowMs() - fromMs > waitMs)
      throw new KnownError(
        "CHECK_UNSTEADY",
        `the probe was not steady within ${durationWords(waitMs)}: ${why}; --wait gives it longer`,
      );
    const last = samples.at(-1);
    const words = last === undefined ? why : `${valueWords(last.value, saying)}, ${why}`;
    const wallMs = performance.now();
    if (wallMs - said.atMs >= (words === said.words ? SAY_EACH_MS : SAY_ANOTHER_MS)) {
      ports.say(words);
      said = { words, atMs: wallMs };
    }
    await new Promise((resolve) => setTimeout(resolve, LOOK_EACH_MS));
  }
}

/** Before its first reading a probe is silent since the check began. */
function stateOf(
  samples: readonly Sample[],
  fromMs: number,
  nowMs: number,
  rule: SteadyRule,
  step: number,
): Steadiness {
  if (samples.length === 0 && nowMs - fromMs > rule.silentMs)
    return { kind: "silent", forMs: nowMs - fromMs };
  return steadinessOf(samples, nowMs, rule, step);
}
