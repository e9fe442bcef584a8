import type { Advice } from "./advice.js";
import { MOULD_DUST, WATER } from "./cautions.js";

/** Causes that lie in the air's water. What to do is common practice, no source. */
export const CLIMATE_ADVICE: Readonly<Record<"damp" | "dry" | "condensation" | "mould", Advice>> = {
  damp: {
    name: "too damp",
    direction: "damp",
    state: "too damp",
    deed: "Air the boxes",
    happened: "The air at the cocoons has been damper than it should be.",
    wasSo: "The air at the cocoons was damper than it should be.",
    steps: [
      "Take out wet paper or pads, and open the vents of the boxes.",
      "Wipe up water on the fridge floor and see that its drain is free.",
      "Look at a few cocoons from each box for mould.",
    ],
    cautions: [WATER, MOULD_DUST],
    over: "Leave the boxes as they are, they are no longer too damp",
    afterwards: [],
  },
  dry: {
    name: "too dry",
    direction: "dry",
    state: "too dry",
    deed: "Damp the paper in the boxes",
    happened: "The air at the cocoons has been drier than it should be.",
    wasSo: "The air at the cocoons was drier than it should be.",
    steps: [
      "Put a few drops of water on the paper, not on the cocoons.",
      "See that the boxes do not stand in the fan's stream.",
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
    happened: "Water has probably settled on the cocoons or the boxes.",
    wasSo: "Water had probably settled on the cocoons or the boxes.",
    steps: [
      "Blot water with dry paper and change any paper that is wet.",
      "Leave the vents of the boxes open.",
      "Keep cold boxes shut when you carry them into a warm room, or water settles on them.",
    ],
    cautions: [WATER],
    over: "Look over the boxes when you pass, water should no longer settle there",
    afterwards: ["Look at a few cocoons for mould within the week."],
  },
  mould: {
    name: "mould likely",
    direction: "damp",
    state: "damp enough for mould",
    deed: "Look at the cocoons for mould",
    // The model behind the index was made for pine sapwood and nothing calibrates it for cocoons.
    happened:
      "It has been damp for long enough that mould may grow. This is reckoned from a model made for pine wood; nobody has measured it on cocoons.",
    wasSo:
      "It was damp for long enough that mould may have grown. This is reckoned from a model made for pine wood; nobody has measured it on cocoons.",
    steps: [
      "Look at cocoons from each box, the lowest layer first.",
      "Set mouldy cocoons apart from the rest.",
      "Change damp paper, and open the vents of the boxes.",
    ],
    cautions: [MOULD_DUST, WATER],
    over: "Look at the cocoons once more, it is no longer damp enough for mould",
    afterwards: [],
  },
};
