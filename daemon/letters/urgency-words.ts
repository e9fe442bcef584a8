import type { Urgency } from "../../shared/excursion.js";

/** What an urgency asks of the keeper, in words. */
export const URGENCY_WORDS: Readonly<Record<Urgency, string>> = {
  note: "for you to know",
  visit: "go and look today",
  rush: "go now",
};
