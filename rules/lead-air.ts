import { isAmongCocoons } from "../shared/site.js";
/** One value heard from a probe of the chamber within a moment. */
export type Heard = Readonly<{
  probeId: string;
  place: "air" | "box" | "wall" | "room";
  atMs: number;
  temperatureC: number;
  humidityPct: number | null;
  /** How long the value stands for the present, ms. */
  freshMs: number;
}>;

/** How long the shortest-lived value stands that says how warm the cocoons are; 0 without any. */
export function shortestFreshMs(heard: readonly Heard[]): number {
  let shortestMs = 0;
  for (const { place, freshMs } of heard)
    if (isAmongCocoons(place) && (shortestMs === 0 || freshMs < shortestMs)) shortestMs = freshMs;
  return shortestMs;
}

/** The air of the moment: the lead probe's values drawn together into one. */
export function leadAir(
  state: Readonly<{ leadId: string | null; leadUntilMs: number }>,
  heard: readonly Heard[],
): readonly Heard[] {
  const airs = heard.filter((h) => h.place === "air");
  const newest = airs[airs.length - 1];
  if (newest === undefined) return airs;
  const keeps = state.leadId !== null && newest.atMs <= state.leadUntilMs;
  const leadId = keeps ? state.leadId : newest.probeId;
  const led = airs.every((a) => a.probeId === leadId)
    ? airs
    : airs.filter((a) => a.probeId === leadId);
  return led.length < 2 ? led : [meanOf(led)];
}

function meanOf(values: readonly Heard[]): Heard {
  const { probeId, place, freshMs } = values[0]!;
  const n = values.length;
  let atMs = 0;
  let temperatureC = 0;
  let humidityPct: number | null = 0;
  for (const value of values) {
    atMs += value.atMs / n;
    temperatureC += value.temperatureC / n;
    humidityPct =
      humidityPct === null || value.humidityPct === null
        ? null
        : humidityPct + value.humidityPct / n;
  }
  return { probeId, place, atMs: Math.round(atMs), temperatureC, humidityPct, freshMs };
}
