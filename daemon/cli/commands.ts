import { existsSync } from "node:fs";
import { type Command, InvalidArgumentError, Option } from "commander";
import { defineCheck } from "./check-command.js";
import { defineYear } from "./year-commands.js";

/*
 * Every command's words: what it does, its options and an example. The work is in the file of the
 * command's name, loaded only when it is called, so that `drowse now` does not wait for a broker.
 */

/** Add all commands to the program. */
export function defineCommands(program: Command): void {
  defineKeepers(program);
  defineViews(program);
  defineReview(program);
  defineTrials(program);
  defineAccess(program);
  defineRecords(program);
  defineYear(program, { config, json, number, example });
  defineCheck(program, { config, json, number, example });
}

const INSTALLED = "/etc/drowse/drowse.toml";

/** The config named on the command line, else the one here, else that of the service. */
function config(command: Command): string {
  const { config: file } = command.optsWithGlobals<{ config: string }>();
  const named = command.getOptionValueSourceWithGlobals("config") === "cli";
  return !named && !existsSync(file) && existsSync(INSTALLED) ? INSTALLED : file;
}

const json = (): Option => new Option("--json", "print JSON for programs instead of text");

function example(...lines: string[]): string {
  return `\nExample:\n${lines.map((l) => `  ${l}`).join("\n")}`;
}

function defineKeepers(program: Command): void {
  program
    .command("keep")
    .description("Keep watch: take readings in, judge them, send letters. Runs until stopped.")
    .addHelpText("after", example("drowse keep --config /etc/drowse/drowse.toml"))
    .action(async (_options, command: Command) =>
      (await import("./keep.js")).keep(config(command)),
    );
  program
    .command("rehearse")
    .description(
      "Rehearse: all of Drowse on a simulated fridge, in a folder state/ here, time running faster.",
    )
    .option("--speed <times>", "how many times faster than the clock", number(1, 3600), 60)
    .option("--for <seconds>", "stop by itself after this long", number(1, 86_400))
    .addHelpText("after", example("drowse rehearse --speed 120"))
    .action(async (options, command: Command) => {
      const given = command.getOptionValueSourceWithGlobals("config") === "cli";
      const { rehearse } = await import("./rehearse.js");
      await rehearse({ ...options, config: given ? config(command) : null });
    });
}

function defineViews(program: Command): void {
  program
    .command("now")
    .description("Say how every chamber is, what is open, and whether letters get through.")
    .option(
      "--acknowledge [excursion]",
      "say that you are on your way: stops the reminders of this one, or of all urgent ones",
    )
    .option(
      "--carry [room]",
      "how long to keep a cold box shut in a warm room, given as temperature and humidity: 20,50",
    )
    .addOption(json())
    .addHelpText(
      "after",
      example("drowse now", "drowse now --acknowledge", "drowse now --carry 20,50"),
    )
    .action(async (options, command: Command) =>
      (await import("./now.js")).now(config(command), options),
    );
  program
    .command("hear")
    .description("List the topics heard, what became of them, and a probe entry for each new one.")
    .option("--for <seconds>", "how long to listen to an outside broker", number(1, 3600), 30)
    .addOption(json())
    .addHelpText("after", example("drowse hear --for 60"))
    .action(async (options, command: Command) =>
      (await import("./hear.js")).hear(config(command), options),
    );
}

function defineReview(program: Command): void {
  program
    .command("winter")
    .description("Review a season: what the cocoons went through, month by month.")
    .option("--chamber <id>", "only this chamber")
    .option("--from <time>", "from this day on; else the newest winter kept")
    .option("--to <time>", "up to, and without, this day")
    .option("--beside [day]", "beside it the season from this day on; else the winter before")
    .addOption(
      new Option("--html", "one HTML file with pictures, to read or print").conflicts([
        "csv",
        "json",
      ]),
    )
    .addOption(new Option("--csv", "the figures by month and week, as CSV").conflicts(["json"]))
    .addOption(json())
    .addHelpText(
      "after",
      example(
        "drowse winter",
        "drowse winter --html > winter.html",
        "drowse winter --beside 2025-10-01",
      ),
    )
    .action(async (options, command: Command) =>
      (await import("./winter.js")).winter(config(command), options),
    );
}

function defineAccess(program: Command): void {
  program
    .command("admit")
    .description(
      "Give a sensor of the config a password for the embedded broker; prints it this once.",
    )
    .argument("<user>", "the user of a [[sensor]] table")
    .option("--withdraw", "take its password away instead")
    .addOption(json())
    .addHelpText("after", example("sudo drowse admit shed-board"))
    .action(async (user: string, options, command: Command) =>
      (await import("./admit.js")).admit(config(command), user, options),
    );
}

function defineTrials(program: Command): void {
  program
    .command("ring")
    .description("Send a trial letter now, the way a real one goes, and say what became of it.")
    .addOption(json())
    .addHelpText("after", example("drowse ring"))
    .action(async (options, command: Command) =>
      (await import("./ring.js")).ring(config(command), options),
    );
  program
    .command("digest")
    .description("Print the digest of the last seven days.")
    .option("--send", "send it to the keepers as well")
    .addOption(json())
    .addHelpText("after", example("drowse digest", "drowse digest --send"))
    .action(async (options, command: Command) =>
      (await import("./digest.js")).digest(config(command), options),
    );
}

function defineRecords(program: Command): void {
  program
    .command("replay")
    .description("Judge a CSV of readings from nothing and print each finding; stores nothing.")
    .argument("<file>", "CSV with the columns time,probe,temperature_c,humidity_pct")
    .addOption(json())
    .addHelpText("after", example("drowse replay winter.csv --json"))
    .action(async (file: string, options, command: Command) =>
      (await import("./replay.js")).replay(config(command), file, options),
    );
  program
    .command("copy")
    .description("Copy the store while Drowse goes on keeping, and check the copy.")
    .argument("[file]", "where to; without it a copy of the day in the copies folder")
    .addOption(json())
    .addHelpText("after", example("drowse copy", "drowse copy /media/stick/drowse.db"))
    .action(async (file: string | undefined, options, command: Command) =>
      (await import("./copy.js")).copy(config(command), file, options),
    );
  program
    .command("readings")
    .description("Export stored readings as CSV, in the form that replay reads.")
    .option("--probe <id>", "only this probe")
    .option("--from <time>", "from this day or instant, for example 2026-01-11")
    .option("--to <time>", "up to, and without, this day or instant")
    .option("--corrected", "as the checks correct them, and by which; raw without")
    .addOption(json())
    .addHelpText("after", example("drowse readings --probe shed-air --from 2026-01-11 > week.csv"))
    .action(async (options, command: Command) =>
      (await import("./readings.js")).readings(config(command), options),
    );
}

function number(low: number, high: number): (text: string) => number {
  return (text) => {
    const value = Number(text);
    if (text.trim() !== "" && value >= low && value <= high) return value;
    throw new InvalidArgumentError(`expected a number from ${low} to ${high}`);
  };
}
