import { type Profiler, Session } from "node:inspector";

/*
 * What each rule costs is sampled and not reckoned: V8's own profiler looks several thousand times
 * a second which function runs. A sample belongs to the innermost file of `rules/` on its stack, so
 * that a sort or a logarithm counts for the rule that asked for it. What the collector of garbage
 * takes cannot be told apart by rule, and has a row of its own.
 */

/** The rules, and the files of `rules/` that they are made of. */
const RULES: Readonly<Record<string, readonly string[]>> = {
  "moments, silences": ["judge", "mute", "silences", "gone", "probe-index"],
  "bad probes": ["sieve", "health", "wild", "stuck", "calm", "drift", "tell-faults"],
  "one chamber, its lead": ["chamber", "lead-air", "lane", "hold", "tended"],
  "air and habit": ["air-watch", "recent-air", "cycle", "overdue"],
  "doors and defrosts": [
    "rise",
    "door-signs",
    "door-odds",
    "door-weights",
    "acquaintance",
    "likeness",
    "linger",
    "rhythm",
    "top-two",
    "usual-rises",
    "schedule",
  ],
  "cocoon temperature": ["cocoon", "lag"],
  "learned constants": ["constants", "learning", "learned-lag", "learned-warming"],
  "warmth and forecast": [
    "warmth",
    "heat-side",
    "late-warmth",
    "never-suitable",
    "outlook",
    "forecast",
  ],
  cold: ["chill", "cold-side"],
  "reserve and season": ["exposure", "chill-days", "season", "matrix", "species"],
  "humid air, condensation": [
    "humid-air",
    "humidity-alone",
    "gathering",
    "wetness",
    "wet-spells",
    "condensation",
  ],
  "damp and mould": ["slow", "climate", "climate-limits", "mould", "dampness", "wet-side"],
  drying: ["drying", "dries-on", "trend", "dryness", "dry-side"],
  "the dark": ["dark", "unseen", "saw-again"],
};
const RULE_OF = new Map(Object.entries(RULES).flatMap(([rule, of]) => of.map((f) => [f, rule])));
const GARBAGE = "collecting garbage";
const SAMPLE_EVERY_US = 200;

/** How often each rule was met, and all samples in which readings were judged. */
export type Shares = Readonly<{ samples: number; byRule: ReadonlyMap<string, number> }>;

/** Run `work` under the profiler and say which share of its judging each rule took. */
export function sharesOf(work: () => void): Shares {
  const session = new Session();
  session.connect();
  let profile: Profiler.Profile | null = null;
  session.post("Profiler.enable");
  session.post("Profiler.setSamplingInterval", { interval: SAMPLE_EVERY_US });
  session.post("Profiler.start");
  work();
  session.post("Profiler.stop", (fault, told) => {
    if (fault === null) profile = told.profile;
  });
  session.disconnect();
  if (profile === null) throw new Error("the profiler told nothing");
  return count(profile);
}

function count({ nodes, samples = [] }: Profiler.Profile): Shares {
  const ruleOf = new Map<number, string | null>();
  const walk = (node: Profiler.ProfileNode, above: string | null): void => {
    const here = ruleIn(node.callFrame) ?? above;
    ruleOf.set(node.id, here);
    for (const id of node.children ?? []) walk(byId.get(id)!, here);
  };
  const byId = new Map(nodes.map((node) => [node.id, node]));
  walk(nodes[0]!, null);
  const byRule = new Map<string, number>();
  for (const id of samples) {
    const rule = ruleOf.get(id) ?? null;
    if (rule !== null) byRule.set(rule, (byRule.get(rule) ?? 0) + 1);
  }
  return { samples: [...byRule.values()].reduce((a, b) => a + b, 0), byRule };
}

function ruleIn({ url, functionName }: { url: string; functionName: string }): string | null {
  if (functionName === "(garbage collector)") return GARBAGE;
  const file = /\/rules\/(?:health\/)?([\w-]+)\.js$/.exec(url)?.[1];
  // A file that no rule names still has its row, under its own name.
  return file === undefined ? null : (RULE_OF.get(file) ?? file);
}
