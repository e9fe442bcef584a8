import { type Steadiness, type SteadyRule, stepOf } from "../../rules/checks/steadiness.js";
import type { Quantity } from "../../shared/check.js";
import { type FaultValue, humidityFault, temperatureFault } from "../../shared/fault-value.js";
import type { Reading } from "../../shared/reading.js";
import { MINUTE_MS } from "../../shared/time.js";
import { durationWords } from "../letters/time-words.js";
import { differenceWords, type Saying } from "./words.js";

type Steady = Omit<SteadyRule, "silentMs">;

/**
 * When a probe in its reference counts as steady. Our choice: a bath of melting ice holds a probe
 * still to some hundredths within minutes; air over a salt solution takes hours, and is believed
 * after half of one without change.
 */
const RULES: Readonly<Record<Quantity, Steady>> = {
  temperature: { overMs: 5 * MINUTE_MS, samplesLeast: 5, driftMost: 0.05, scatterMost: 0.05 },
  humidity: { overMs: 30 * MINUTE_MS, samplesLeast: 5, driftMost: 0.5, scatterMost: 0.5 },
};

/** How long to wait for it unless told otherwise, minutes; our choice. */
export const WAIT_MIN: Readonly<Record<Quantity, number>> = { temperature: 45, humidity: 720 };

/** What household probes resolve where their readings do not show it, °C and %RH; our choice. */
const ASSUMED_STEP = 0.1;
/** So many different values show what a probe resolves. */
const VALUES_LEAST = 20;

/**
 * The rule for a probe that speaks so often.
 *
 * @param storedAfterMs how long a reading may wait before it can be read, ms
 */
export function steadyRule(
  quantity: Quantity,
  intervalMs: number,
  storedAfterMs: number,
): SteadyRule {
  return { ...RULES[quantity], silentMs: 3 * intervalMs + storedAfterMs + 2 * MINUTE_MS };
}

/** A reading's value of the quantity; null where it has none that can have been measured. */
export function valueIn(reading: Reading, quantity: Quantity): number | null {
  const { temperatureC, humidityPct } = reading;
  const value = quantity === "temperature" ? temperatureC : humidityPct;
  return value === null || faultOf(value, quantity) !== null ? null : value;
}

function faultOf(value: number, quantity: Quantity): FaultValue | null {
  return quantity === "temperature" ? temperatureFault(value) : humidityFault(value);
}

/** The step in which a probe speaks, by its past readings. */
export function stepOfProbe(past: readonly Reading[], quantity: Quantity): number {
  const values = past.flatMap((reading) => valueIn(reading, quantity) ?? []);
  return new Set(values).size < VALUES_LEAST ? ASSUMED_STEP : (stepOf(values) ?? ASSUMED_STEP);
}

/** Why a probe is not steady yet, in one clause. */
export function unsteadyWords(
  state: Exclude<Steadiness, { kind: "steady" }>,
  rule: SteadyRule,
  saying: Saying,
): string {
  const stretch = durationWords(rule.overMs);
  switch (state.kind) {
    case "silent":
      return `nothing was heard of it for ${durationWords(state.forMs)}: does it send, and does drowse keep run`;
    case "too-few":
      return `${state.samples} readings over ${durationWords(state.forMs)} so far, it takes ${rule.samplesLeast} over ${stretch}`;
    case "drifting": {
      const way = state.drift > 0 ? "rising" : "falling";
      return `still ${way}, by ${differenceWords(Math.abs(state.drift), saying)} in ${stretch}`;
    }
    case "restless":
      return `still moving up and down by ${differenceWords(state.scatter, saying)}: keep it still, and out of moving air`;
  }
}
