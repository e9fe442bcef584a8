import type { Reading } from "../shared/reading.js";
import type { ChamberState } from "./chamber-state.js";
import { forgetPartings } from "./health/drift.js";
import type { Health } from "./health/sieve.js";
import type { JudgeState } from "./judge.js";

/**
 * A judgement with one chamber as another judgement of the same readings has it: its probes too,
 * and what it has gathered and not judged yet.
 *
 * @param probeIds the probes of that chamber
 */
export function transplantChamber(
  state: JudgeState,
  from: JudgeState,
  chamberId: string,
  probeIds: readonly string[],
): JudgeState {
  const put = putChamber(state, from, chamberId, probeIds, (_, anew) => anew);
  const { probes, partings } = state.health;
  const anew = new Map(from.health.probes.map((health) => [health.probeId, health]));
  const health = {
    probes: probes.map((one) =>
      probeIds.includes(one.probeId) ? (anew.get(one.probeId) ?? one) : one,
    ),
    partings: [
      ...partings.filter(({ one }) => !probeIds.includes(one)),
      ...from.health.partings.filter(({ one }) => probeIds.includes(one)),
    ],
  };
  return { ...put, health };
}

/**
 * A judgement that knows a chamber's habits as another one does, and all else as before.
 *
 * What a fridge usually does is known in degrees, so when its probe is corrected by a degree its
 * habit moves by as much, and nothing has happened in the fridge. Nor can the probe be compared
 * with its own past any more.
 */
export function transplantHabit(
  state: JudgeState,
  from: JudgeState,
  chamberId: string,
  probeIds: readonly string[],
): JudgeState {
  const put = putChamber(state, from, chamberId, probeIds, (chamber, { watch, cocoon, airC }) => ({
    ...chamber,
    watch,
    cocoon,
    airC: airC ?? chamber.airC,
  }));
  return { ...put, health: withoutPartings(state.health, probeIds) };
}

/** What is known of probes' health, with these compared anew. */
export function withoutPartings(health: Health, probeIds: readonly string[]): Health {
  let { partings } = health;
  for (const probeId of probeIds) partings = forgetPartings(partings, probeId);
  return { probes: health.probes, partings };
}

function putChamber(
  state: JudgeState,
  from: JudgeState,
  chamberId: string,
  probeIds: readonly string[],
  join: (chamber: ChamberState, anew: ChamberState) => ChamberState,
): JudgeState {
  const anew = from.chambers.find((chamber) => chamber.chamberId === chamberId);
  if (anew === undefined) return state;
  const chambers = state.chambers.map((chamber) =>
    chamber.chamberId === chamberId ? join(chamber, anew) : chamber,
  );
  const isOfChamber = ({ probeId }: Reading): boolean => probeIds.includes(probeId);
  const gathered = [
    ...state.gathered.filter((reading) => !isOfChamber(reading)),
    ...from.gathered.filter(isOfChamber),
  ];
  return { ...state, chambers, gathered };
}
