import {
  type Absence,
  type Correction,
  correctionAt,
  type HeldCorrection,
  type Quantity,
} from "../shared/check.js";
import { humidityFault, temperatureFault } from "../shared/fault-value.js";
import type { Reading } from "../shared/reading.js";

/** Makes of what a probe said what it should have said. */
export type Corrector = Readonly<{
  /**
   * A reading with what checks found added to it. One from a time in which the probe was not in
   * its place has neither quantity left. A value that cannot have been measured stays as it is: it
   * is a sign of a fault, and known by its very number.
   */
  correct(reading: Reading): Reading;
  /** The correction that holds for a reading of this time; null where no check says anything. */
  inForce(probeId: string, quantity: Quantity, atMs: number): HeldCorrection | null;
  /** The corrections that hold at one instant, for readings of any time. */
  asOf(atMs: number): Corrector;
}>;

const NOTHING: readonly never[] = [];
/** What is corrected stays humidity that air can have; 0 would read as a fault. */
const DRIEST_PCT = 0.01;
const DAMPEST_PCT = 100;

type OfProbe = Readonly<{
  /** Made last first, so that the first that has begun is the one that holds. */
  temperature: readonly HeldCorrection[];
  humidity: readonly HeldCorrection[];
  absences: readonly Absence[];
}>;

/** Make ready to correct readings. What is returned is pure and never throws. */
export function openCorrector(
  held: readonly HeldCorrection[],
  absences: readonly Absence[] = NOTHING,
): Corrector {
  const ids = new Set([...held, ...absences].map(({ probeId }) => probeId));
  const probes = new Map([...ids].map((id) => [id, ofProbe(id, held, absences)]));

  const inForce = (probeId: string, quantity: Quantity, atMs: number): HeldCorrection | null =>
    probes.get(probeId)?.[quantity].find(({ fromMs }) => fromMs <= atMs) ?? null;

  return {
    correct(reading) {
      const probe = probes.get(reading.probeId);
      return probe === undefined ? reading : correctBy(probe, reading);
    },
    inForce,
    asOf(atMs) {
      const always = [...ids].flatMap((id) =>
        (["temperature", "humidity"] as const).flatMap((quantity) => {
          const one = inForce(id, quantity, atMs);
          return one === null ? [] : [{ ...one, fromMs: Number.NEGATIVE_INFINITY }];
        }),
      );
      return openCorrector(always, absences);
    },
  };
}

function ofProbe(
  probeId: string,
  held: readonly HeldCorrection[],
  absences: readonly Absence[],
): OfProbe {
  const of = (quantity: Quantity) =>
    held
      .filter((one) => one.probeId === probeId && one.quantity === quantity)
      .sort((a, b) => b.madeAtMs - a.madeAtMs);
  return {
    temperature: of("temperature"),
    humidity: of("humidity"),
    absences: absences.filter((absence) => absence.probeId === probeId),
  };
}

function correctBy({ temperature, humidity, absences }: OfProbe, reading: Reading): Reading {
  const { probeId, takenAtMs, temperatureC, humidityPct } = reading;
  for (const { fromMs, untilMs } of absences)
    if (takenAtMs >= fromMs && takenAtMs < untilMs)
      return { probeId, takenAtMs, temperatureC: null, humidityPct: null };
  const warmer = holding(temperature, takenAtMs);
  const damper = holding(humidity, takenAtMs);
  if (warmer === null && damper === null) return reading;
  return {
    probeId,
    takenAtMs,
    temperatureC:
      warmer === null || temperatureC === null || temperatureFault(temperatureC) !== null
        ? temperatureC
        : temperatureC + correctionAt(warmer, temperatureC),
    humidityPct:
      damper === null || humidityPct === null || humidityFault(humidityPct) !== null
        ? humidityPct
        : Math.min(
            DAMPEST_PCT,
            Math.max(DRIEST_PCT, humidityPct + correctionAt(damper, humidityPct)),
          ),
  };
}

function holding(held: readonly HeldCorrection[], atMs: number): Correction | null {
  for (const { fromMs, correction } of held) if (fromMs <= atMs) return correction;
  return null;
}
