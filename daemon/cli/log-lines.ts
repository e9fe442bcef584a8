import { fstatSync } from "node:fs";
import { type Logger, pino } from "pino";
import { printable } from "../../sensors/printable.js";

const STDERR = 2;

/** How lines are set: for the journal, for who looks on at a terminal, or as JSON for programs. */
export type LineStyle = "journal" | "terminal" | "json";

/** Severities of RFC 5424, table 2, by pino's levels. */
const SEVERITIES: Readonly<Record<number, number>> = { 20: 7, 30: 6, 40: 4, 50: 3, 60: 2 };
const INFORMATIONAL = 6;
/** The journal cuts lines at 48 KiB unless told otherwise (journald.conf(5), LineMax). */
const LINE_CHARS_MOST = 16_000;

/**
 * A line of pino's as a person reads it: the sentence first, then the facts as `name=value`.
 *
 * For the journal it begins with the severity in angle brackets, which the journal takes off and
 * sorts by (sd-daemon(3)), and has no time, which the journal writes itself.
 *
 * @param json one JSON object, with or without the line's end
 */
export function readableLine(json: string, style: Exclude<LineStyle, "json">): string {
  const { level, time, msg, ...facts } = JSON.parse(json) as Record<string, unknown>;
  const severity = SEVERITIES[Number(level)] ?? INFORMATIONAL;
  const head = style === "journal" ? `<${severity}>` : `${String(time)} `;
  const tail = Object.entries(facts).map(([name, value]) => ` ${name}=${shown(value)}`);
  const words = `${String(msg)}${tail.length === 0 ? "" : `;${tail.join("")}`}`;
  // Strangers choose topics: no second line, and nothing that steers a terminal.
  return `${head}${printable(words, LINE_CHARS_MOST)}\n`;
}

/** Whatever needs no quotes goes without. */
function shown(value: unknown): string {
  const isPlain = typeof value === "string" && /^[^\s"]+$/.test(value);
  return isPlain ? value : JSON.stringify(value);
}

/** How this process' stderr wants its lines. */
function styleOfStderr(env: NodeJS.ProcessEnv): LineStyle {
  // Device and inode of the journal's socket, so that a redirected stderr is told from it
  // (systemd.exec(5), JOURNAL_STREAM).
  const { dev, ino } = fstatSync(STDERR);
  if (env.JOURNAL_STREAM === `${dev}:${ino}`) return "journal";
  return process.stderr.isTTY ? "terminal" : "json";
}

/** A log on stderr, set for whoever reads it there. */
export function openLog(env: NodeJS.ProcessEnv = process.env): Logger {
  const style = styleOfStderr(env);
  const out = pino.destination(STDERR);
  const options = { base: null, timestamp: pino.stdTimeFunctions.isoTime };
  if (style === "json") return pino(options, out);
  return pino(options, { write: (line) => void out.write(readableLine(line, style)) });
}
