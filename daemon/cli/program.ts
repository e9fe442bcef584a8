import { Command, CommanderError } from "commander";
import { KnownError } from "../../shared/errors.js";
import { defineCommands } from "./commands.js";
import { nameWrongUse } from "./wrong-use.js";

const DONE = 0;
const FAILED = 1;
const WRONG_USE = 2;

const WHEN_ALONE = `
Begin with:
  drowse rehearse          all of it on a simulated fridge
  drowse COMMAND --help    what a command does, with an example`;

/**
 * Run one command line, without the words `node` and `drowse`.
 *
 * @returns the exit code: 0 done, 1 failed, 2 wrong use or wrong config
 */
export async function runCommand(args: readonly string[]): Promise<number> {
  endQuietlyWhenNobodyReads();
  const program = createProgram();
  try {
    await program.parseAsync([...args], { from: "user" });
    return DONE;
  } catch (error) {
    return explain(error, program, args);
  }
}

function createProgram(): Command {
  const program = new Command("drowse")
    .description("Keeps watch over a fridge full of wintering mason-bee cocoons.")
    .option("--config <file>", "the config file", "drowse.toml")
    .helpOption("-h, --help", "say what a command does")
    .helpCommand(false)
    .addHelpText("after", WHEN_ALONE)
    .configureHelp({ showGlobalOptions: true })
    // What commander would say of wrong use is said by nameWrongUse, once and with a cure.
    .configureOutput({ outputError: () => {} })
    .showSuggestionAfterError(false)
    .exitOverride();
  defineCommands(program);
  return program;
}

function explain(error: unknown, program: Command, args: readonly string[]): number {
  if (error instanceof CommanderError) {
    if (error.exitCode === DONE) return DONE;
    // Commander has shown the whole help to whoever typed no command at all.
    if (error.code !== "commander.help") complain(nameWrongUse(error, program, args).message);
    return WRONG_USE;
  }
  if (error instanceof KnownError) {
    complain(error.message);
    return /^(WRONG_USE|CONFIG_)/.test(error.code) ? WRONG_USE : FAILED;
  }
  complain(`unexpected: ${error instanceof Error ? error.stack : String(error)}`);
  return FAILED;
}

function complain(message: string): void {
  process.stderr.write(`drowse: ${message}\n`);
}

/** `drowse readings | head` closes our output early, which is no failure. */
function endQuietlyWhenNobodyReads(): void {
  process.stdout.on("error", (error: NodeJS.ErrnoException) => {
    if (error.code === "EPIPE") process.exit(DONE);
    throw error;
  });
}
