import type { Advice } from "./advice.js";
import { MAINS, WATER } from "./cautions.js";

type WarmCause = "door-ajar" | "opening" | "defrost" | "cooling-lost" | "warm";

/** Causes that warm the cocoons. What to do is common practice, no source. */
export const WARM_ADVICE: Readonly<Record<WarmCause, Advice>> = {
  "door-ajar": {
    name: "door ajar",
    direction: "warm",
    state: "too warm",
    deed: "Shut the fridge door",
    happened: "The fridge door seems to stand open.",
    wasSo: "The fridge door seems to have stood open.",
    steps: [
      "Shut the door and press along its seal.",
      "See that no box, shelf or lead keeps it from closing.",
      "If it was shut when you came, leave it shut and see whether the fridge is running.",
    ],
    cautions: [MAINS],
    over: "Leave the fridge door shut, it is closed again",
    afterwards: [
      "See what kept the door from closing: a box, a lead, ice on the seal, a worn hinge.",
    ],
  },
  opening: {
    name: "ordinary opening",
    direction: "warm",
    state: "opened",
    deed: "Keep the fridge door shut for a while",
    happened: "The fridge door was opened, in the ordinary way.",
    wasSo: "The fridge door was opened, in the ordinary way.",
    steps: ["Open the door again only when you need to."],
    cautions: [],
    over: "Leave the fridge door shut, the opening is over",
    afterwards: [],
  },
  defrost: {
    name: "defrost",
    direction: "warm",
    state: "defrosting",
    deed: "Leave the fridge to finish its defrost",
    happened: "The fridge seems to be defrosting itself.",
    wasSo: "The fridge seems to have defrosted itself.",
    steps: ["Keep the door shut until the fridge cools again."],
    cautions: [WATER],
    over: "Leave the fridge as it is, the defrost is over",
    afterwards: [],
  },
  "cooling-lost": {
    name: "cooling lost",
    direction: "warm",
    state: "too warm",
    deed: "Move the cocoons to another cold place",
    happened: "The fridge seems to have stopped cooling, with its door shut.",
    wasSo: "The fridge seems to have stopped cooling for a time, with its door shut.",
    steps: [
      "Before you open the door, see whether the fridge has power: is the plug in, has the breaker tripped, do other things on that circuit work.",
      "If it starts again, keep the door shut and wait for the next letter.",
      "If it does not, carry the boxes, lids on, to another fridge that holds the cocoons' band. Not a freezer.",
      "Until you can move them, keep the door shut. A shut fridge warms slowly.",
    ],
    cautions: [MAINS],
    over: "Leave the fridge running, it cools again",
    afterwards: [
      "Find out why it stopped before you trust it again. Have it looked at if you cannot say.",
    ],
  },
  warm: {
    name: "too warm",
    direction: "warm",
    state: "too warm",
    deed: "Find out why the cocoons are warm",
    happened: "The cocoons are warmer than their band, and the air does not show why.",
    wasSo: "The cocoons were warmer than their band, and the air does not show why.",
    steps: [
      "See that the door is shut and the fridge is running.",
      "See whether the dial was moved, or something warm was put in.",
      "If all that is well, turn the fridge one step colder and look again in a few hours.",
    ],
    cautions: [MAINS],
    over: "Leave the fridge as it is, the cocoons are cool again",
    afterwards: ["If you turned the dial, watch that the fridge does not now grow too cold."],
  },
};
