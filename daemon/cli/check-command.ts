import type { Command } from "commander";
import type { Common } from "./year-commands.js";

/** Add the command that checks probes. */
export function defineCheck(program: Command, common: Common): void {
  const { config, json, number, example } = common;
  program
    .command("check")
    .description("Check a probe against a reference, and see what checks there are.")
    .option("--probe <id>", "which probe")
    .option("--quantity <name>", "temperature or humidity")
    .option("--reference <kind>", "ice, instrument, or a salt: NaCl, MgCl2, KCl and more")
    .option("--reference-name <words>", "what instrument: kind, number, certificate")
    .option(
      "--reference-uncertainty <number>",
      "its uncertainty (k = 2) by its certificate, K or %RH",
    )
    .option("--reference-correction <number>", "what its certificate adds to what it shows")
    .option("--salt-temperature <degrees>", "of the solution, unless the probe measures it")
    .option("--reads <number>", "what the instrument shows; - for a line of input at each point")
    .option("--pairs <file>", "pairs from a CSV: probe_c,reference_c (or _f, or _pct)")
    .option("--fit <kind>", "offset or line; by the pairs unless given")
    .option("--tolerance <number>", "to either side; 0.5 °C or 3 %RH unless given")
    .option("--from <day>", "correct back to this day, and judge anew what was judged since")
    .option("--record-only", "keep it for the record, and correct nothing")
    .option("--in-place", "the probe stays where it is, and is judged meanwhile")
    .option("--wait <minutes>", "how long to wait for it to be steady", number(1, 2880))
    .option("--by <name>", "who made the check")
    .option("--note <words>", "what else there is to say of it")
    .option("--how <reference>", "how to make one: ice, salt or instrument")
    .option("--history", "list the checks made")
    .option("--certificate [check]", "print one check, or the newest, as a page")
    .option("--html", "the page as HTML")
    .option("--withdraw <check>", "take a check back; it stays in the history")
    .addOption(json())
    .addHelpText(
      "after",
      example(
        "drowse check",
        "drowse check --probe shed-air --reference ice",
        "drowse check --probe shed-box --pairs pairs.csv --reference ice --from 2026-01-11",
      ),
    )
    .action(async (options, command: Command) =>
      (await import("./check.js")).check(config(command), options),
    );
}
