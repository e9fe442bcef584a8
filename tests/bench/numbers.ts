import { parseArgs } from "node:util";

/** What a bench is asked for by options that each take a whole number. */
type Numbers<Name extends string> = Readonly<Record<Name, number>>;

/**
 * The numbers asked for, `--NAME N` each.
 *
 * @param words as typed
 * @param defaults each option's name, and its number where it is not given
 * @throws {TypeError} on an option that does not exist, or a value that is no whole number from 1 on
 */
export function readNumbers<Name extends string>(
  words: readonly string[],
  defaults: Numbers<Name>,
): Numbers<Name> {
  const names = Object.keys(defaults) as Name[];
  const options = Object.fromEntries(names.map((name) => [name, { type: "string" as const }]));
  const { values } = parseArgs({ args: [...words], options });
  const read = (name: Name) => {
    const typed = values[name];
    return typed === undefined ? defaults[name] : wholeNumber(name, typed);
  };
  return Object.fromEntries(names.map((name) => [name, read(name)])) as Record<Name, number>;
}

/** @throws {TypeError} naming the option */
export function wholeNumber(name: string, typed: string, least = 1): number {
  const number = Number(typed);
  if (/^\d+$/.test(typed) && number >= least && Number.isSafeInteger(number)) return number;
  throw new TypeError(`--${name} is ${typed}, but takes a whole number from ${least} on`);
}

/** The numbers asked for, or an end with 2. */
export const askedNumbers = <Name extends string>(defaults: Numbers<Name>): Numbers<Name> =>
  asked((words) => readNumbers(words, defaults));

/** What the words ask for; where they are wrong, the reason on stderr and an end with 2. */
export function asked<T>(read: (words: readonly string[]) => T): T {
  try {
    return read(process.argv.slice(2));
  } catch (error) {
    if (!(error instanceof TypeError)) throw error;
    console.error(error.message);
    process.exit(2);
  }
}
