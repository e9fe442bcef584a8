import type { Fridge } from "./fridge.js";
import type { ProbeSetup } from "./probe.js";
import { beginSimulation, STEP_S, stepSimulation } from "./simulation.js";

/** How a fridge behaves when left alone, as its air probe's element feels it. */
export type Behaviour = Readonly<{
  /** Mean away from defrosts, °C. */
  meanC: number;
  /** Half the mean swing of a compressor cycle, K; 0 where no whole cycle was seen. */
  halfSwingK: number;
  /** Mean time from start to start, min; Infinity where no whole cycle was seen. */
  periodMin: number;
  /** How far a defrost lifts the air above the top of its cycles, K; 0 where none was seen. */
  defrostRiseK: number;
  /** Share of the time that the compressor runs. 0 to 1. */
  runShare: number;
}>;

/** One minute of a fridge left alone. */
type Minute = Readonly<{ airC: number; on: boolean; defrosting: boolean }>;

const WARM_UP_MIN = 18 * 60;
const WATCH_MIN = 30 * 60;
const STEPS_A_MINUTE = 60 / STEP_S;
/** A defrost's effect has gone this long after it began, min; our choice. */
const DISTURBED_MIN = 75;
/** Any defrost will do to see what one does, so they come often enough to see three. */
const DEFROST_EVERY_S = 8 * 3_600;

/** Watch a fridge for thirty hours with nobody at the door and calm weather: about 10 ms. */
export function watchFridge(fridge: Fridge): Behaviour {
  const minutes = recordMinutes(fridge);
  const cycles: Minute[][] = [];
  const calm: Minute[] = [];
  const risesToC: number[] = [];
  let cycle: Minute[] | null = null;
  let sinceDefrostMin = DISTURBED_MIN;
  let peakC = Number.NEGATIVE_INFINITY;
  let wasOn = true;
  for (const minute of minutes) {
    if (minute.defrosting && sinceDefrostMin >= DISTURBED_MIN) {
      sinceDefrostMin = 0;
      peakC = Number.NEGATIVE_INFINITY;
    }
    const starts = minute.on && !wasOn;
    wasOn = minute.on;
    if (sinceDefrostMin < DISTURBED_MIN) {
      sinceDefrostMin++;
      peakC = Math.max(peakC, minute.airC);
      if (sinceDefrostMin === DISTURBED_MIN) risesToC.push(peakC);
      cycle = null;
      continue;
    }
    calm.push(minute);
    if (starts) {
      if (cycle !== null) cycles.push(cycle);
      cycle = [];
    }
    cycle?.push(minute);
  }
  return sumUp(minutes, calm, cycles, risesToC);
}

function sumUp(
  minutes: readonly Minute[],
  calm: readonly Minute[],
  cycles: readonly (readonly Minute[])[],
  risesToC: readonly number[],
): Behaviour {
  const meanC = mean(calm.map((m) => m.airC)) ?? Number.NaN;
  const halfSwings = cycles.map((cycle) => {
    const airC = cycle.map((m) => m.airC);
    return (Math.max(...airC) - Math.min(...airC)) / 2;
  });
  const halfSwingK = mean(halfSwings) ?? 0;
  const riseToC = mean(risesToC);
  return {
    meanC,
    halfSwingK,
    periodMin: mean(cycles.map((cycle) => cycle.length)) ?? Number.POSITIVE_INFINITY,
    defrostRiseK: riseToC === null ? 0 : riseToC - (meanC + halfSwingK),
    runShare: minutes.filter((m) => m.on).length / minutes.length,
  };
}

function recordMinutes(fridge: Fridge): Minute[] {
  const simulation = beginSimulation({
    fridge: calmFridge(fridge),
    seed: 1,
    startMs: 0,
    endMs: (WARM_UP_MIN + WATCH_MIN) * 60_000,
    probes: [perfectProbe(fridge.probeLagS)],
    script: [],
  });
  const minutes: Minute[] = [];
  for (let minute = 0; minute < WARM_UP_MIN + WATCH_MIN; minute++) {
    for (let step = 0; step < STEPS_A_MINUTE; step++) stepSimulation(simulation);
    if (minute < WARM_UP_MIN) continue;
    const { compressorOn: on, defrosting } = simulation.control;
    minutes.push({ airC: simulation.probes[0]?.elementC ?? Number.NaN, on, defrosting });
  }
  return minutes;
}

function calmFridge(fridge: Fridge): Fridge {
  const { defrost, room } = fridge;
  return {
    ...fridge,
    defrost: defrost && { ...defrost, by: "clock", everyS: DEFROST_EVERY_S },
    room: { ...room, weatherK: 0, humidityWeatherPct: 0 },
  };
}

function perfectProbe(lagS: number): ProbeSetup {
  return {
    id: "watch",
    place: "air",
    humidity: false,
    intervalS: 3_600,
    lagS,
    noiseK: 0,
    wanderK: 0,
    humidityNoisePct: 0,
    offsetK: 0,
    humidityOffsetPct: 0,
    lossShare: 0,
  };
}

function mean(values: readonly number[]): number | null {
  return values.length === 0 ? null : values.reduce((a, b) => a + b, 0) / values.length;
}
