import type { Advice } from "./advice.js";
import { MAINS, WATER } from "./cautions.js";

type ProbeCause = "probe-mute" | "probe-stuck" | "probe-wild" | "probe-drift";

const BLIND =
  "Until it is put right, look at the fridge yourself: another thermometer in it will do.";

/** Causes that lie in a probe, and say nothing of the cocoons. Common practice, no source. */
export const PROBE_ADVICE: Readonly<Record<ProbeCause, Advice>> = {
  "probe-mute": {
    name: "probe silent",
    direction: null,
    state: "not heard",
    deed: "Look at the silent probe",
    happened: "The probe has stopped sending. What it would have seen since is not known.",
    wasSo: "The probe sent nothing. What it would have seen in that time is not known.",
    steps: [
      "See whether the probe has power: its battery, or its plug.",
      "See whether it is in reach of its radio, and whether the house network is up.",
      BLIND,
    ],
    cautions: [MAINS],
    over: "Leave the probe as it is, it is heard again",
    afterwards: ["A probe that falls silent in the cold often has a weak battery."],
  },
  "probe-stuck": {
    name: "probe stuck",
    direction: null,
    state: "not moving",
    deed: "Look at the stuck probe",
    happened: "The probe keeps sending the same value, so it is not believed until it moves again.",
    wasSo: "The probe kept sending the same value.",
    steps: [
      "Hold the probe in your hand for a minute and see whether its value moves.",
      "If it does not, switch it off and on, or change it.",
      BLIND,
    ],
    cautions: [MAINS],
    over: "Leave the probe as it is, its values move again",
    afterwards: ["A probe that stands still a second time is worth changing."],
  },
  "probe-wild": {
    name: "probe wild",
    direction: null,
    state: "not to be trusted",
    deed: "Look at the wild probe",
    happened: "The probe sends values that it cannot have measured. None of them was believed.",
    wasSo: "The probe sent values that it cannot have measured. None of them was believed.",
    steps: [
      "See whether its lead is pinched in the door, loose, corroded or wet.",
      "See whether its power holds: a weak battery, a loose plug, a supply that other things share.",
      "Change its battery or its lead; if that does not help, change the probe.",
      BLIND,
    ],
    cautions: [MAINS, WATER],
    over: "Leave the probe as it is, its values are sound again",
    afterwards: ["A lead that failed once tends to fail again when the door moves it."],
  },
  "probe-drift": {
    name: "probe drifting",
    direction: null,
    state: "parts from its neighbour",
    deed: "Check the probe and its neighbour",
    happened: "Two probes that share a chamber part ways day by day, so one of them drifts.",
    wasSo: "Two probes that share a chamber parted ways.",
    steps: [
      "Check both, one after the other, with drowse check: beside a thermometer you trust, or in melting crushed ice if they are made to be wetted.",
      "What the check finds is corrected from then on, or back to a date; a probe that is off by more than a degree is better changed.",
      "If neither is off, see what has changed between the two: a box moved, paper in front of a fan, ice on the wall.",
    ],
    cautions: [WATER],
    over: "Leave the probes as they are, they go together again",
    afterwards: [],
  },
};
