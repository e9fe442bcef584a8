import { createInterface } from "node:readline";
import { wrongUse } from "./options.js";

/** Puts questions to whoever sits at the terminal. */
export type Asker = Readonly<{
  say(text: string): void;
  /** The answer, or the fallback where nothing was typed and there is one. */
  ask(question: string, fallback?: string): Promise<string>;
  /** Ask until `read` makes something of the answer. */
  askFor<T>(question: string, read: (answer: string) => T | null, fallback?: string): Promise<T>;
  /** The chosen one of a numbered list, by its number or by how its words begin. */
  choose<T>(question: string, choices: readonly (readonly [words: string, value: T])[]): Promise<T>;
  close(): void;
}>;

type Streams = Readonly<{ input: NodeJS.ReadableStream; output: NodeJS.WritableStream }>;

/** Lines typed, one at a time; null once there will be none any more. */
export function openLines(input: NodeJS.ReadableStream): {
  next(): Promise<string | null>;
  close(): void;
} {
  const lines = createInterface({ input });
  const typed: (string | null)[] = [];
  const waiting: ((line: string | null) => void)[] = [];
  const give = (line: string | null): void => {
    const taker = waiting.shift();
    if (taker === undefined) typed.push(line);
    else taker(line);
  };
  lines.on("line", give);
  lines.on("close", () => give(null));
  return {
    next: async () => {
      const line = typed.shift();
      return line === undefined ? new Promise((resolve) => waiting.push(resolve)) : line;
    },
    close: () => lines.close(),
  };
}

/** Ask on these streams. */
export function openAsker({ input, output }: Streams): Asker {
  const lines = openLines(input);
  const say = (text: string) => void output.write(`${text}\n`);
  const ask = async (question: string, fallback?: string): Promise<string> => {
    for (;;) {
      output.write(`${question}${fallback === undefined ? "" : ` [${fallback}]`}: `);
      const line = await lines.next();
      if (line === null) throw wrongUse("there was no answer; nothing was kept");
      const answer = line.trim();
      if (answer !== "") return answer;
      if (fallback !== undefined) return fallback;
    }
  };
  const askFor: Asker["askFor"] = async (question, read, fallback) => {
    for (;;) {
      const answer = await ask(question, fallback);
      const value = read(answer);
      if (value !== null) return value;
      say(`That can't be read: ${answer}`);
    }
  };
  const choose: Asker["choose"] = async (question, choices) => {
    choices.forEach(([words], i) => {
      say(`  ${i + 1}  ${words}`);
    });
    const at = await askFor(
      question,
      (answer) => {
        const number = Number(answer);
        if (Number.isInteger(number)) return choices[number - 1] === undefined ? null : number - 1;
        const begun = choices.filter(([words]) => words.startsWith(answer));
        return begun.length === 1 ? choices.indexOf(begun[0]!) : null;
      },
      "1",
    );
    return choices[at]![1];
  };
  return { say, ask, askFor, choose, close: () => lines.close() };
}
