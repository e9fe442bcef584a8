import type { Advice } from "./advice.js";
import { MAINS } from "./cautions.js";

/** What to do about a stretch that nobody saw. Common practice, no source. */
export const DARK_ADVICE: Advice = {
  name: "hours not seen",
  direction: "warm",
  state: "perhaps too warm while nobody saw",
  deed: "Look at the cocoons",
  happened: "For a time nobody saw the cocoons, and in it they may have grown too warm.",
  wasSo: "For a time nobody saw the cocoons, and in it they may have grown too warm.",
  steps: [
    "See that the fridge runs and its door is shut.",
    "Open a box or two and see whether any bees are out or moving.",
    "Find out what failed: the power, the network, the board or the probe.",
    "Write down what you saw, with drowse tend inspected or on the page; this request then ends.",
  ],
  cautions: [MAINS],
  over: "Leave it at that, no more is asked about the hours that nobody saw",
  afterwards: ["If you have not looked at the cocoons since, do it at your next visit."],
};
