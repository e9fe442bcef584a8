/**
 * What one probe said at one instant.
 *
 * `takenAtMs` is Unix time in milliseconds. A quantity the probe did not send is `null`;
 * at least one of the two is a number. Temperature is °C, humidity %RH over liquid water.
 */
export type Reading = Readonly<{
  probeId: string;
  takenAtMs: number;
  temperatureC: number | null;
  humidityPct: number | null;
}>;
