import type { Command, CommanderError } from "commander";
import { closest } from "fastest-levenshtein";
import { KnownError } from "../../shared/errors.js";

/** Say what was wrong with a command line and which right word is nearest to the wrong one. */
export function nameWrongUse(
  error: CommanderError,
  program: Command,
  args: readonly string[],
): KnownError {
  const { names, command, stray } = readWords(program, args);
  const help = `see drowse ${names.map((name) => `${name} `).join("")}--help`;
  // A command that does something by itself takes a wrong word after it for its argument.
  if (stray !== null && /excessArguments|unknownOption/.test(error.code)) {
    const nearest = nearestName(stray, command);
    return new KnownError(
      "WRONG_USE",
      `unknown command '${stray}' of ${names.join(" ")}; nearest is ${nearest}; ${help}`,
    );
  }
  const word = /'([^']*)'/.exec(error.message)?.[1] ?? "";
  const complaint = error.message.replace(/^error: /, "").replace(/\.?\n.*/s, "");
  const nearest = nearestWord(error.code, word, program, command);
  const hint = nearest === null ? "" : `; nearest is ${nearest}`;
  return new KnownError("WRONG_USE", `${complaint}${hint}; ${help}`);
}

/** The command that a line names, and the word after it where it should have named one of its own. */
function readWords(
  program: Command,
  args: readonly string[],
): Readonly<{ names: readonly string[]; command: Command; stray: string | null }> {
  const command = program.commands.find((c) => args.includes(c.name()));
  if (command === undefined) return { names: [], command: program, stray: null };
  const names = [command.name()];
  const next = args[args.indexOf(command.name()) + 1];
  if (command.commands.length === 0 || next === undefined || next.startsWith("-"))
    return { names, command, stray: null };
  const inner = command.commands.find((c) => c.name() === next);
  return inner === undefined
    ? { names, command, stray: next }
    : { names: [...names, inner.name()], command: inner, stray: null };
}

const nearestName = (word: string, command: Command): string =>
  closest(
    word,
    command.commands.map((c) => c.name()),
  );

function nearestWord(
  code: string,
  word: string,
  program: Command,
  command: Command,
): string | null {
  if (code === "commander.unknownCommand") return nearestName(word, command);
  if (code !== "commander.unknownOption") return null;
  const options = [...program.options, ...command.options];
  const flags = options.flatMap((o) => [o.long, o.short]).filter((f) => f != null);
  return closest(word, [...flags, "--help"]);
}
