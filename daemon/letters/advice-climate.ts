import type { Advice } from "./advice.js";
import { MOULD_DUST, WATER } from "./cautions.js";

// A 4 °C cocoon in a room of 20 °C and 50 %RH, whose dew point is 9.3 °C (WMO-No. 8, Annex 4.B),
// gets wet.
const IN_THE_COLD =
  "Do it where it is about as cold as in the fridge. In a warm room water settles on cold cocoons; if the boxes must go there, drowse now --carry says how long to keep them shut.";
const WRITE_IT_DOWN =
  "Write down what you did, with drowse tend or on the page: the next judgement takes it into account.";

/** Causes that lie in the air's water. What to do is common practice, no source. */
export const CLIMATE_ADVICE: Readonly<Record<"damp" | "dry" | "condensation" | "mould", Advice>> = {
  damp: {
    name: "too damp",
    direction: "damp",
    state: "too damp",
    deed: "Air the boxes",
    happened: "The air at the cocoons has been damp enough that mould is to be feared.",
    wasSo: "The air at the cocoons was damp enough that mould was to be feared.",
    steps: [
      "Take out wet paper or pads and put in dry paper.",
      "Spread the cocoons one or two deep, and open the vents of the boxes.",
      "Wipe up water on the fridge floor and see that its drain is free.",
      "Look at a few cocoons from each box for mould, the lowest ones first.",
      IN_THE_COLD,
      WRITE_IT_DOWN,
    ],
    cautions: [WATER, MOULD_DUST],
    over: "Leave the boxes as they are, they are no longer too damp",
    afterwards: ["Look at a few cocoons for mould at your next visit."],
  },
  dry: {
    name: "too dry",
    direction: "dry",
    state: "too dry",
    deed: "Damp the paper with a few drops of water",
    happened: "The air at the cocoons has been drier than its band.",
    wasSo: "The air at the cocoons was drier than its band.",
    steps: [
      "Put a few drops of water on the paper, not on the cocoons, and shut the box again.",
      "See that the boxes do not stand in the fan's stream.",
      "Write it down, with drowse tend damped or on the page: the days of drying are counted from then.",
    ],
    cautions: [WATER],
    over: "Leave the boxes as they are, they are no longer too dry",
    afterwards: [],
  },
  condensation: {
    name: "condensation",
    direction: "damp",
    state: "wet",
    deed: "Dry the boxes",
    happened: "Water has probably settled on the cocoons or the boxes, and has not dried since.",
    wasSo: "Water had probably settled on the cocoons or the boxes.",
    steps: [
      "Blot water with dry paper, and change any paper that is wet.",
      "Spread the cocoons one or two deep, and leave the vents of the boxes open.",
      "See that the door shuts and its seal is clean: moist air from the room brings the water.",
      IN_THE_COLD,
      WRITE_IT_DOWN,
    ],
    cautions: [WATER],
    over: "Look over the boxes when you pass, water should no longer lie there",
    afterwards: ["Look at a few cocoons for mould within the week."],
  },
  mould: {
    name: "mould likely",
    direction: "damp",
    state: "damp enough for mould",
    deed: "Look at the cocoons for mould",
    happened: "It has been damp for long enough that mould may have begun to grow.",
    wasSo: "It was damp for long enough that mould may have begun to grow.",
    steps: [
      "Look at cocoons from each box, the lowest layer first.",
      "Set mouldy cocoons apart from the rest.",
      "Change damp paper, spread the cocoons one or two deep, and open the vents of the boxes.",
      IN_THE_COLD,
      "Write down whether you saw any, with drowse tend inspected or on the page: it is kept beside the index.",
    ],
    cautions: [MOULD_DUST, WATER],
    over: "Leave the boxes as they are, mould is no longer likely to grow",
    afterwards: ["What has grown stays: look at the cocoons once more at your next visit."],
  },
};
