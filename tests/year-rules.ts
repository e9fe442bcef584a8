import type { Config } from "../daemon/config.js";

/** What a config says of the year where its keeper left it as it comes. */
export const YEAR_RULES: Pick<Config, "year" | "release"> = {
  year: { inspectDays: 14, weighDays: 30 },
  release: {
    warmC: 13,
    warmDays: 3,
    conditions: ["warmth", "chill", "bloom"],
    malesAheadDays: 4,
    stageDays: 7,
  },
};
