import type { Reading } from "../shared/reading.js";
import type { ChamberState } from "./chamber.js";
import type { JudgeState } from "./judge.js";

/**
 * A judgement with one chamber as another judgement of the same readings has it, down to what it
 * has gathered and not judged yet.
 *
 * @param probeIds the probes of that chamber
 */
export function transplantChamber(
  state: JudgeState,
  from: JudgeState,
  chamberId: string,
  probeIds: readonly string[],
): JudgeState {
  return put(state, from, chamberId, probeIds, (_, anew) => anew);
}

/**
 * A judgement that knows a chamber's habits as another one does, and all else as before.
 *
 * What a fridge usually does is known in degrees, so when its probe is corrected by a degree its
 * habit moves by as much, and nothing has happened in the fridge.
 */
export function transplantHabit(
  state: JudgeState,
  from: JudgeState,
  chamberId: string,
  probeIds: readonly string[],
): JudgeState {
  return put(state, from, chamberId, probeIds, (chamber, { watch, cocoon, airC }) => ({
    ...chamber,
    watch,
    cocoon,
    airC: airC ?? chamber.airC,
  }));
}

function put(
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
