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
    happened: "The probe keeps sending the same value, which a living fridge does not.",
    wasSo: "The probe kept sending the same value.",
    steps: [
      "Hold the probe in your hand for a minute and see whether its value moves.",
      "If it does not, switch it off and on, or change it.",
      BLIND,
    ],
    cautions: [MAINS],
    over: "Leave the probe as it is, its values move again",
    afterwards: [],
  },
  "probe-wild": {
    name: "probe wild",
    direction: null,
    state: "not to be trusted",
    deed: "Look at the wild probe",
    happened: "The probe sends values that jump more than air can.",
    wasSo: "The probe sent values that jump more than air can.",
    steps: [
      "See whether its lead is pinched in the door, loose or wet.",
      "Change its battery, or change the probe.",
      BLIND,
    ],
    cautions: [MAINS, WATER],
    over: "Leave the probe as it is, its values are steady again",
    afterwards: [],
  },
  "probe-drift": {
    name: "probe drifting",
    direction: null,
    state: "not to be trusted",
    deed: "Check the drifting probe",
    happened: "The probe no longer agrees with what it is compared with.",
    wasSo: "The probe did not agree with what it is compared with.",
    steps: [
      "Check it against a thermometer you trust, or in melting crushed ice if it is made to be wetted.",
      "If it is off, correct it or change it.",
      BLIND,
    ],
    cautions: [WATER],
    over: "Leave the probe as it is, it agrees again",
    afterwards: [],
  },
};
