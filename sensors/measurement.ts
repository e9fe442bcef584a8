import type { RejectReason } from "./reject-reason.js";

/** When the sensor says it measured. */
export type SensorTime =
  | Readonly<{ kind: "absolute"; atMs: number }>
  /** Counted from the moment of sending; below 0 is the past. */
  | Readonly<{ kind: "relative"; offsetMs: number }>;

/** What one payload says of one probe at one time, not yet checked for sense. */
export type Measurement = Readonly<{
  /** °C */
  temperatureC: number | null;
  /** %RH over liquid water */
  humidityPct: number | null;
  /** null where the payload tells no time. */
  time: SensorTime | null;
}>;

/** A part of a payload that could not be used: its place and what was found there. */
export type Fault = Readonly<{ reason: RejectReason; detail: string }>;

/** All that a payload says of one probe. */
export type Content = Readonly<{
  measurements: readonly Measurement[];
  faults: readonly Fault[];
}>;

/** For what is in order, which is nearly everything. */
export const NO_FAULTS: readonly Fault[] = [];

/** Content of a payload of which nothing could be used. */
export function faulty(reason: RejectReason, detail: string): Content {
  return { measurements: [], faults: [{ reason, detail }] };
}
