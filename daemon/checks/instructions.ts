import type { Reference } from "../../shared/check.js";
import { MAINS, WATER } from "../letters/cautions.js";

/** How to make what a probe is held against. Common practice, no source, unless one is named. */
export type Instructions = Readonly<{
  heading: string;
  steps: readonly string[];
  cautions: readonly string[];
}>;

const NO_MAINS_DEVICE =
  "Never bring anything that is plugged into the mains near the water: no mains adapter, no lamp, no stirrer. Run board and probe from where they are dry, or from a battery.";
const PROBE_MADE_FOR_IT =
  "Only a probe that its maker says may be immersed goes into water. Any other goes into a thin bag without air, its lead leaving upwards, or is checked beside a reference instead.";
const SALT_CARE =
  "Wear gloves and eye protection, keep salts and jars from children and food, label the jar, and follow the label of the salt. Lithium chloride is harmful if swallowed; magnesium nitrate feeds fire. Local rules decide how to dispose of them.";

const ICE: Instructions = {
  heading: "A bath of melting ice, 0 °C",
  steps: [
    "Crush ice made of distilled or boiled water to the size of peas; rinse crushing cloth and vessel with the same water.",
    "Fill a vacuum flask to the brim with it, and pour in cold distilled water until the ice is wet throughout but does not float: no water may stand at the bottom.",
    "Put the probe in the middle, ten centimetres deep or more, so that it touches neither wall nor bottom.",
    "Stir by hand now and then. Pour off water and add ice as it melts.",
    "Leave it for a quarter of an hour at least; this waits until it is steady.",
  ],
  cautions: [NO_MAINS_DEVICE, PROBE_MADE_FOR_IT, WATER],
};

const SALT: Instructions = {
  heading: "The air over a saturated salt solution",
  steps: [
    "Put two spoons of the salt into a small jar and add distilled water drop by drop until it is a wet slush, with undissolved salt to be seen. For sodium chloride use pure salt without iodine or anti-caking agents.",
    "Hang the probe in the jar's air above the slush, touching neither salt nor wall, and seal the lid around its lead.",
    "Stand the jar where its temperature stays the same within half a degree, from 0 to 25 °C, in the dark and away from heaters. A fridge that runs swings too much.",
    "Wait for hours, overnight is best; this waits until it is steady.",
  ],
  cautions: [
    SALT_CARE,
    "A drop of the solution on the sensor ruins it. Carry the jar upright.",
    MAINS,
  ],
};

const INSTRUMENT: Instructions = {
  heading: "Beside a reference",
  steps: [
    "Bundle probe and reference tip to tip, so that they touch, and put both where the temperature hardly moves: in a stirred bath if both may get wet, else in a bag wrapped in cloths, or in a box of cocoons in the fridge.",
    "Keep them there until both stand still; a fridge's air by itself swings too much.",
    "Read the reference to its last digit, square to its scale, without breathing on it.",
  ],
  cautions: [NO_MAINS_DEVICE, PROBE_MADE_FOR_IT],
};

/** How to make this reference. */
export function instructionsFor(kind: Reference["kind"]): Instructions {
  return { ice: ICE, salt: SALT, instrument: INSTRUMENT }[kind];
}

/** Instructions as text for a terminal. */
export function setInstructions({ heading, steps, cautions }: Instructions): string {
  const numbered = steps.map((step, i) => `  ${i + 1}. ${step}`);
  const care = cautions.map((caution) => `  ${caution}`);
  return [heading, ...numbered, "Take care", ...care].join("\n");
}
