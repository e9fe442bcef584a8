import { oneLine } from "../letters/one-line.js";
import {
  degreeHourWords,
  limitWords,
  numberWords,
  type TemperatureUnit,
  temperatureWords,
} from "../letters/temperature-words.js";
import { durationWords } from "../letters/time-words.js";
import { type Reason, type ReasonKind, WEEK_LIMITS } from "./verdict.js";

/** A share as whole per cent, "93 %"; never "100 %" for what is not quite all, nor "0 %" for some. */
export function shareWords(share: number): string {
  if (share > 0 && share < 0.01) return "under 1 %";
  if (share < 1 && share > 0.99) return "over 99 %";
  return `${numberWords(share * 100, 0)} %`;
}

const counted = (count: number, one: string, many: string): string =>
  count === 1 ? `one ${one}` : `${count} ${many}`;

/** Why a week was not sound, in one sentence. */
export function reasonSentence(reason: Reason, unit: TemperatureUnit): string {
  const { kind, value, weight } = reason;
  const place = oneLine(reason.place, 60);
  const hot = limitWords(WEEK_LIMITS.hotC, unit);
  const sentences: Readonly<Record<ReasonKind, () => string>> = {
    hot: () =>
      `The cocoons at ${place} reached ${temperatureWords(value, unit)}. A study of male Osmia lignaria found ${hot} unsuitable for wintering of any length tried; other bees may differ.`,
    warmth: () =>
      `The cocoons at ${place} had ${degreeHourWords(value, unit)} above their band; from ${degreeHourWords(WEEK_LIMITS.warmthStrainsDegreeHours, unit)} in a week it counts as a strain.`,
    frost: () =>
      `The cocoons at ${place} fell to ${temperatureWords(value, unit)}. In a fridge that is the sign of a fault; how much of it they bear is not known.`,
    chill: () => `The cocoons at ${place} had ${degreeHourWords(value, unit)} below their band.`,
    mould: () =>
      `The mould index at ${place} stood at ${numberWords(value, 1)}. It comes from a model made for pine wood and only says how one week compares with another.`,
    band: () =>
      `The cocoons at ${place} were in their band for ${shareWords(value)} of the time that was seen.`,
    excursions: () => `At ${place}, ${counted(value, "event", "events")} asked you to go and look.`,
    winter: () =>
      `The winter so far at ${place} has cost as much as ${temperatureWords(value, unit)} throughout, which for its length ${weight === "harmed" ? "was found unsuitable" : "lies beyond what was found to do well"} in a study of male Osmia lignaria, or by the reserve it took; other bees may differ.`,
    damp: () =>
      `It was so damp at ${place} that mould is to be feared for ${shareWords(value)} of the hours.`,
    dry: () => `The air at ${place} was drier than its band for ${shareWords(value)} of the hours.`,
    unseen: () =>
      `Nothing was heard from any probe for ${durationWords(value * 3_600_000)} of the week, so what the cocoons felt then is not known.`,
    deaf: () => `The probe ${place} sent only ${shareWords(value)} of what was expected of it.`,
    doubted: () =>
      `The probe ${place} was not to be believed for ${durationWords(value * 3_600_000)}, so what it should have seen then is not known.`,
    parted: () =>
      `The probe ${place} and its neighbour part ways, so that figures below may be off by some tenths of a degree.`,
    mail: () => `Given up undelivered: ${counted(value, "letter", "letters")}.`,
  };
  return weight === "harmed"
    ? `${sentences[kind]()} Count this stock as harmed until you have looked at it.`
    : sentences[kind]();
}

/** What to do about each reason: the deed for the first line, and how. */
export const NEXT_STEPS: Readonly<Record<ReasonKind, Readonly<{ deed: string; step: string }>>> = {
  hot: {
    deed: "Look at the cocoons",
    step: "Open a few cocoons from the warmest box and see whether the bees in them are firm and alive. Write down what you find.",
  },
  warmth: {
    deed: "Find out what warms the cocoons",
    step: "Read the events below and put right what comes up more than once: the door's seal, the dial, boxes near the door.",
  },
  frost: {
    deed: "Turn the fridge warmer",
    step: "Turn the dial one step warmer, and keep boxes away from the cold plate. Look again a day later.",
  },
  chill: {
    deed: "Turn the fridge warmer",
    step: "Turn the dial one step warmer and look again a day later.",
  },
  mould: {
    deed: "Look at the cocoons for mould",
    step: "Look at the lowest layer of each box, out of doors or by an open window, with a mask that fits closely. Change damp paper.",
  },
  band: {
    deed: "Set the fridge to hold the band",
    step: "Turn the dial one step at a time, and give the fridge a day between two steps.",
  },
  excursions: {
    deed: "See what kept coming up",
    step: "Read the events below. Put right what comes up more than once.",
  },
  winter: {
    deed: "Plan the release",
    step: "See with drowse due when lots can be let go, and keep the fridge at the cool end of its band until then.",
  },
  damp: {
    deed: "Air the boxes",
    step: "Open the vents of the boxes and take out wet paper. Keep water away from lamp, leads and plug.",
  },
  dry: {
    deed: "Damp the paper in the boxes",
    step: "Put a few drops of water on the paper, not on the cocoons. Keep water away from lamp, leads and plug.",
  },
  unseen: {
    deed: "See why nothing was heard",
    step: "See whether the board that runs Drowse had power and network through the week, and whether the probes reach it.",
  },
  deaf: {
    deed: "See to the probe that is heard badly",
    step: "Change its battery, or bring it or its receiver nearer.",
  },
  doubted: {
    deed: "Look at the probe that is not to be believed",
    step: "What it said stands under Probes below. See to its lead, its power and its battery, or change it.",
  },
  parted: {
    deed: "Check the probe and its neighbour",
    step: "drowse check leads through it; by how much they parted stands under Probes below.",
  },
  mail: {
    deed: "See why letters did not arrive",
    step: "Compare the keepers' addresses with the config, and ask for a trial letter: drowse ring",
  },
};
