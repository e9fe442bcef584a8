import type { TemperatureUnit } from "../shared/units.js";
import type { BatterySource } from "./battery.js";

/** How one probe's messages are read. */
export type ProbeSource = Readonly<{
  probeId: string;
  /** MQTT topic filter; the wildcards + and # are allowed. Several probes may share a topic. */
  topic: string;
  payload: "senml" | "json" | "number";
  /**
   * Where the temperature is: a JSON Pointer (RFC 6901), or for SenML the full name, base name
   * included. null: not measured, or for SenML whatever comes in Cel or K.
   */
  temperature: string | null;
  /** Where the humidity is, likewise. null: not measured, or for SenML whatever comes in %RH. */
  humidity: string | null;
  /** JSON Pointer to the sensor's own time: RFC 3339 text, or Unix seconds or milliseconds. */
  time: string | null;
  /** Unit of a temperature in "json" and "number" payloads; SenML names its own. */
  unit: TemperatureUnit;
  /** What a "number" payload is; of no account for the others. */
  quantity: "temperature" | "humidity";
  /** Where it tells of its battery, if it does. */
  battery?: BatterySource;
}>;
