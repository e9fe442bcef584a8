import type { Advice } from "./advice.js";
import { MAINS } from "./cautions.js";

// Nobody has published a dose of cold below 0 °C that sleeping mason bees bear without injury;
// in a fridge, cold below 0 °C is the sign of a fault.
const UNKNOWN_DOSE =
  "How much cold below freezing cocoons bear without injury is not known. Treat it as a fault to be put right.";

/** Causes that chill the cocoons. What to do is common practice, no source. */
export const COLD_ADVICE: Readonly<Record<"over-cooling" | "cold", Advice>> = {
  "over-cooling": {
    name: "over-cooling",
    direction: "cold",
    state: "too cold",
    deed: "Turn the fridge warmer",
    happened: `The fridge seems to cool more than it should. ${UNKNOWN_DOSE}`,
    wasSo: "The fridge seems to have cooled more than it should.",
    steps: [
      "Turn the dial one step warmer. One step only; a fridge takes hours to settle.",
      "Move boxes away from the cold plate and from where the cold air comes in.",
      "If it goes on falling, carry the boxes to another fridge that holds the cocoons' band.",
      "Do not warm the cocoons in a heated room.",
    ],
    cautions: [MAINS],
    over: "Leave the dial as it is, the fridge no longer over-cools",
    afterwards: ["Look at the fridge again tomorrow: a thermostat that has drifted may drift on."],
  },
  cold: {
    name: "too cold",
    direction: "cold",
    state: "too cold",
    deed: "Find out why the cocoons are cold",
    happened: `The cocoons are colder than their band, and the air does not show why. ${UNKNOWN_DOSE}`,
    wasSo: "The cocoons were colder than their band, and the air does not show why.",
    steps: [
      "See whether the dial was moved.",
      "See whether a box touches the cold plate, or the room has turned very cold.",
      "If all that is well, turn the fridge one step warmer and look again in a few hours.",
      "Do not warm the cocoons in a heated room.",
    ],
    cautions: [MAINS],
    over: "Leave the fridge as it is, the cocoons are back from the cold",
    afterwards: ["If you turned the dial, watch that the fridge does not now grow too warm."],
  },
};
