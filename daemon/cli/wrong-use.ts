import type { Command, CommanderError } from "commander";
import { closest } from "fastest-levenshtein";
import { KnownError } from "../../shared/errors.js";

/** Say what was wrong with a command line and which right word is nearest to the wrong one. */
export function nameWrongUse(
  error: CommanderError,
  program: Command,
  args: readonly string[],
): KnownError {
  const command = program.commands.find((c) => args.includes(c.name()));
  const help = `see drowse ${command === undefined ? "" : `${command.name()} `}--help`;
  const word = /'([^']*)'/.exec(error.message)?.[1] ?? "";
  const complaint = error.message.replace(/^error: /, "").replace(/\.?\n.*/s, "");
  const nearest = nearestWord(error.code, word, program, command);
  const hint = nearest === null ? "" : `; nearest is ${nearest}`;
  return new KnownError("WRONG_USE", `${complaint}${hint}; ${help}`);
}

function nearestWord(
  code: string,
  word: string,
  program: Command,
  command: Command | undefined,
): string | null {
  if (code === "commander.unknownCommand")
    return closest(
      word,
      program.commands.map((c) => c.name()),
    );
  if (code !== "commander.unknownOption") return null;
  const options = [...program.options, ...(command?.options ?? [])];
  const flags = options.flatMap((o) => [o.long, o.short]).filter((f) => f != null);
  return closest(word, [...flags, "--help"]);
}
