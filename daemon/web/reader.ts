import type { HourCycle } from "../letters/time-words.js";

/** Languages remembered; the reader can name any. */
const MOST = 100;
const known = new Map<string, HourCycle>();

/**
 * How the reader's locale counts hours: by the first language that the browser asks for (RFC 9110,
 * section 12.5.4), as CLDR has it. Without one, or one that is not known, as letters do.
 */
export function hourCycleOf(acceptLanguage: string | undefined): HourCycle {
  const tag = /^\s*([A-Za-z]{2,8}(?:-[A-Za-z0-9]{1,8}){0,5})\s*(?:[,;]|$)/.exec(
    acceptLanguage ?? "",
  )?.[1];
  if (tag === undefined) return "h23";
  const before = known.get(tag);
  if (before !== undefined) return before;
  if (known.size >= MOST) known.clear();
  const cycle = askCldr(tag);
  known.set(tag, cycle);
  return cycle;
}

function askCldr(tag: string): HourCycle {
  try {
    const { hourCycle } = new Intl.DateTimeFormat(tag, { hour: "numeric" }).resolvedOptions();
    return hourCycle === "h12" || hourCycle === "h11" ? "h12" : "h23";
  } catch {
    return "h23";
  }
}

/**
 * Whether pictures are to be drawn narrow: as the address asks for, else for phones, which say so
 * in one word (MDN, "Browser detection using the user agent"). Two drawings in one page, of which
 * the browser shows one, would be twice as much to send over a weak network.
 */
export function isNarrow(userAgent: string | undefined, drawn: string | undefined): boolean {
  if (drawn === "narrow" || drawn === "wide") return drawn === "narrow";
  return /\bMobi/.test(userAgent ?? "");
}
