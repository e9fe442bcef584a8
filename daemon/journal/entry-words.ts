import type { Entry, Sight } from "../../shared/journal.js";
import { BLEACH, MOULD_DUST, NOT_FOR_FOOD, PESTS } from "../letters/cautions.js";
import { oneLine } from "../letters/one-line.js";

/** What can be seen, in words. */
export const SIGHT_WORDS: Readonly<Record<Sight, string>> = {
  mould: "mould",
  "early-bees": "bees out of their cocoons",
  mites: "mites",
  wasps: "wasps",
  beetles: "beetles",
  flies: "flies",
};

const counted = (count: number, of: string): string =>
  `${count} ${of}cocoon${count === 1 ? "" : "s"}`;

/** What an entry says was done or seen, in a few words: "inspected: mould, mites". */
export function actWords({ act }: Pick<Entry, "act">): string {
  switch (act.kind) {
    case "inspected": {
      const seen = act.seen.map((sight) => SIGHT_WORDS[sight]).join(", ");
      return `inspected: ${seen || "nothing amiss"}`;
    }
    case "moved":
      return act.toChamberId === null
        ? "taken out of the cold"
        : `moved into ${oneLine(act.toChamberId, 60)}`;
    case "weighed": {
      const sample = `sample ${oneLine(act.label, 40)}, ${counted(act.cocoons, "")}`;
      return `weighed: ${act.massG} g, ${sample}`;
    }
    case "opened":
      return `opened ${counted(act.cocoons, "")}: ${act.parasitised} parasitised, ${act.dead} dead`;
    case "lost":
      return `${counted(act.cocoons, "")} found spoilt`;
    case "released": {
      const parts = [
        act.small > 0 && counted(act.small, "small "),
        act.large > 0 && counted(act.large, "large "),
      ];
      return `put out to fly: ${parts.filter(Boolean).join(", ")}`;
    }
    case "ended":
      return "given up";
    case "paper-changed":
      return "paper changed";
    case "bloom":
      return "bloom seen";
    case "withdrawn":
      return "taken back";
    default:
      return act.kind;
  }
}

const PEST_SIGHTS: readonly Sight[] = ["mites", "wasps", "beetles", "flies"];

/** What to take care of with what an entry tells of. */
export function cautionsFor({ act }: Pick<Entry, "act">): string[] {
  if (act.kind === "cleaned") return [BLEACH];
  if (act.kind === "moved" && act.toChamberId !== null) return [NOT_FOR_FOOD];
  if (act.kind !== "inspected") return [];
  const isPest = act.seen.some((sight) => PEST_SIGHTS.includes(sight));
  return [...(act.seen.includes("mould") ? [MOULD_DUST] : []), ...(isPest ? [PESTS] : [])];
}
