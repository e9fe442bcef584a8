import type { Command, Option } from "commander";
import { NOTHING_SEEN, OUT } from "../journal/acts.js";

/** How the commands of the keeper's year find their config, and say what all commands say. */
export type Common = Readonly<{
  config(command: Command): string;
  json(): Option;
  number(low: number, high: number): (text: string) => number;
  example(...lines: string[]): string;
}>;

/** Add the commands for lots and the journal. */
export function defineYear(program: Command, common: Common): void {
  defineDue(program, common);
  defineTend(program, common);
  const lot = program
    .command("lot")
    .description("Enter lots of cocoons and what is done to them; say what they went through.")
    .helpCommand(false);
  defineLots(lot, common);
  defineLotDeeds(lot, common);
}

function defineDue(program: Command, { config, json, number, example }: Common): void {
  program
    .command("due")
    .description("Say what is due, and whether cocoons may be let go; or write it as a calendar.")
    .option("--within <days>", "what falls due in so many days", number(0, 366), 30)
    .option("--ics <file>", "write an iCalendar file (RFC 5545); - for the terminal")
    .addOption(json())
    .addHelpText("after", example("drowse due", "drowse due --ics due.ics"))
    .action(async (options, command: Command) =>
      (await import("./due.js")).due(config(command), options),
    );
}

const ON = "when, if not now: 2026-01-11, or 2026-01-11 14:30";
const CORRECTS = "the number of the entry that this one corrects; what is left out stays";

function defineTend(program: Command, { config, json, example }: Common): void {
  program
    .command("tend")
    .description("Write into the journal what you did and saw; alone, print the journal.")
    .argument(
      "[deed]",
      "damped, aired, paper-changed, cleaned, inspected, bloom, note, or withdrawn",
    )
    .argument("[chamber]", "where; not needed with one chamber, or with --lot")
    .option("--lot <id>", "the lot it was done to")
    .option("--on <time>", ON)
    .option(
      "--saw <what>",
      `with inspected: ${NOTHING_SEEN}, or some of mould, early-bees, mites, wasps, beetles, flies`,
    )
    .option("--words <text>", "anything in your own words")
    .option("--corrects <entry>", CORRECTS)
    .option("--from-csv <file>", "write all lines of a CSV as --csv prints it, or none")
    .option("--from <time>", "print from this day or instant on")
    .option("--to <time>", "print up to, and without, this day or instant")
    .option("--csv", "print CSV that --from-csv reads")
    .addOption(json())
    .addHelpText(
      "after",
      example(
        "drowse tend damped shed",
        "drowse tend inspected --saw mould,mites --on 2026-01-11",
        "drowse tend withdrawn --corrects 12",
      ),
    )
    .action(async (deed, chamber, options, command: Command) =>
      (await import("./tend.js")).tend(config(command), deed, chamber, options),
    );
}

function withFacts(command: Command): Command {
  return command
    .option("--species <id>", "osmia-bicornis say, or one of [[species]]; else the chamber's")
    .option("--origin <words>", "where the cocoons come from")
    .option("--harvested <day>", "the day of the harvest, for example 2025-10-04")
    .option("--large <cocoons>", "large ones, mostly females")
    .option("--small <cocoons>", "small ones, mostly males")
    .option("--box <words>", "which box or boxes they lie in")
    .option("--warm-days <days>", "warm days as adults before the cold")
    .option("--words <text>", "anything in your own words");
}

function defineLots(lot: Command, { config, json, example }: Common): void {
  withFacts(lot.command("add"))
    .description("Enter a lot; with --in or --chamber it goes into the cold as well.")
    .argument("[id]", "a name for it, for example hedge-2025")
    .option("--chamber <id>", "the chamber it goes into")
    .option("--in <time>", "when it went in, if not now")
    .option("--from-csv <file>", "enter all lots of a CSV, or none")
    .addOption(json())
    .addHelpText(
      "after",
      example("drowse lot add hedge-2025 --large 80 --small 120 --chamber shed --in 2025-10-24"),
    )
    .action(async (id, options, command: Command) =>
      (await import("./lot.js")).addLots(config(command), id, options),
    );
  withFacts(lot.command("change"))
    .description("Write a later version of a lot; what is left out stays, the old one is kept.")
    .argument("<id>", "the lot")
    .addOption(json())
    .addHelpText("after", example("drowse lot change hedge-2025 --large 82"))
    .action(async (id, options, command: Command) =>
      (await import("./lot.js")).changeLot(config(command), id, options),
    );
  lot
    .command("list", { isDefault: true })
    .description("Print the lots in store.")
    .option("--all", "those that are over as well")
    .option("--csv", "print CSV that lot add --from-csv reads")
    .addOption(json())
    .addHelpText("after", example("drowse lot list --all"))
    .action(async (options, command: Command) =>
      (await import("./lot.js")).listLots(config(command), options),
    );
  lot
    .command("show")
    .description("Say all that is known of a lot.")
    .argument("<id>", "the lot")
    .addOption(json())
    .addHelpText("after", example("drowse lot show hedge-2025"))
    .action(async (id, options, command: Command) =>
      (await import("./lot.js")).showLot(config(command), id, options),
    );
}

type Deed = Readonly<{
  name: string;
  deed: string;
  says: string;
  example: string;
  options: readonly (readonly [flags: string, says: string])[];
}>;

const LOT_DEEDS: readonly Deed[] = [
  {
    name: "move",
    deed: "moved",
    says: `Move a lot into a chamber, or out of the cold with --to ${OUT}.`,
    example: "drowse lot move hedge-2025 --to barn",
    options: [["--to <chamber>", `the chamber, or ${OUT}`]],
  },
  {
    name: "weigh",
    deed: "weighed",
    says: "Weigh a labelled sample: the same cocoons each time, dry and at fridge temperature.",
    example: "drowse lot weigh hedge-2025 --mass-g 3.21 --cocoons 30",
    options: [
      ["--mass-g <grams>", "what the sample weighs, g"],
      ["--cocoons <number>", "how many there are in it; needed the first time, 30 or more"],
      ["--label <words>", 'the sample\'s label, if not "A"'],
      ["--scale-g <grams>", "the smallest step that the scale shows, if not 0.01 g"],
    ],
  },
  {
    name: "open",
    deed: "opened",
    says: "Say what was in a sample of cocoons that you cut open.",
    example: "drowse lot open hedge-2025 --cocoons 20 --parasitised 2 --dead 1",
    options: [
      ["--cocoons <number>", "how many were opened"],
      ["--parasitised <number>", "how many of these held parasites"],
      ["--dead <number>", "how many others were dead"],
    ],
  },
  {
    name: "lose",
    deed: "lost",
    says: "Say how many cocoons were found spoilt and taken out.",
    example: 'drowse lot lose hedge-2025 --cocoons 5 --words "mouldy, lowest layer"',
    options: [["--cocoons <number>", "how many"]],
  },
  {
    name: "release",
    deed: "released",
    says: "Say which cocoons were put out to fly; all that are left where no number is given.",
    example: "drowse lot release hedge-2025 --small 120",
    options: [
      ["--small <number>", "small ones, mostly males"],
      ["--large <number>", "large ones, mostly females"],
    ],
  },
  {
    name: "end",
    deed: "ended",
    says: "Give up what is left of a lot.",
    example: "drowse lot end hedge-2025",
    options: [],
  },
];

function defineLotDeeds(lot: Command, { config, json, example }: Common): void {
  for (const { name, deed, says, example: line, options } of LOT_DEEDS) {
    const command = lot.command(name).description(says).argument("<id>", "the lot");
    for (const [flags, words] of options) command.option(flags, words);
    command
      .option("--on <time>", ON)
      .option("--words <text>", "anything in your own words")
      .option("--corrects <entry>", CORRECTS)
      .addOption(json())
      .addHelpText("after", example(line))
      .action(async (id, given, self: Command) =>
        (await import("./lot.js")).tendLot(config(self), deed, id, given),
      );
  }
}
