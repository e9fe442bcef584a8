import type { Arrival } from "../../sensors/decode.js";
import type { ProbeSource } from "../../sensors/source.js";

/** When the messages of these tests arrive, unless they say otherwise. */
export const NOW_MS = Date.UTC(2026, 10, 25, 7, 16, 0);

export const JSON_PROBE: ProbeSource = {
  probeId: "shed-air",
  topic: "quillmere/shed/air",
  payload: "json",
  temperature: "/temperature",
  humidity: "/humidity",
  time: "/at",
  unit: "C",
  quantity: "temperature",
};
export const NUMBER_PROBE: ProbeSource = {
  ...JSON_PROBE,
  payload: "number",
  temperature: null,
  humidity: null,
  time: null,
};
export const SENML_PROBE: ProbeSource = { ...NUMBER_PROBE, payload: "senml" };

export function arrive(payload: unknown, over: Partial<Arrival> = {}): Arrival {
  const text = typeof payload === "string" ? payload : JSON.stringify(payload);
  const bytes = payload instanceof Uint8Array ? payload : new TextEncoder().encode(text);
  return {
    topic: "quillmere/shed/air",
    payload: bytes,
    retained: false,
    arrivedAtMs: NOW_MS,
    clockSane: true,
    ...over,
  };
}
