import type { Cause, Finding } from "../../shared/excursion.js";
import type { Advice } from "./advice.js";
import { CLIMATE_ADVICE } from "./advice-climate.js";
import { COLD_ADVICE } from "./advice-cold.js";
import { DARK_ADVICE } from "./advice-dark.js";
import { PROBE_ADVICE } from "./advice-probe.js";
import { WARM_ADVICE } from "./advice-warm.js";

const ALL: Readonly<Record<Cause, Advice>> = {
  ...WARM_ADVICE,
  ...COLD_ADVICE,
  ...CLIMATE_ADVICE,
  ...PROBE_ADVICE,
};

/** What to say for a cause. Total: every cause has its advice. */
export function adviceFor(cause: Cause): Advice {
  return ALL[cause];
}

/** What to say of a finding: of its cause, or of the hours that nobody saw where it is about those. */
export function adviceOf({ cause, beside }: Pick<Finding, "cause" | "beside">): Advice {
  return cause === "warm" && beside?.dark ? DARK_ADVICE : ALL[cause];
}
