/*
 * The addresses of pages, in one place, so that a link and its page agree. Every name that came
 * from outside is encoded.
 */

export const NOW = "/";
export const ENTER = "/enter";
export const LEAVE = "/leave";

const part = encodeURIComponent;
/** An id may hold slashes, which stay as they are, since the pages of ids take all that follows. */
const whole = (id: string): string => id.split("/").map(part).join("/");

/** The winter of a chamber; with a span one year, month or day of it: 2025, 2026-01, 2026-01-11. */
export const winterAddress = (chamberId: string, span?: string): string =>
  span === undefined ? `/winter/${part(chamberId)}` : `/winter/${part(chamberId)}/${part(span)}`;

export const excursionAddress = (id: string): string => `/excursion/${whole(id)}`;
export const letterAddress = (id: string): string => `/letter/${whole(id)}`;

export const DUE = "/due";
export const LOTS = "/lots";
export const NEW_LOT = "/lots/new";
export const JOURNAL = "/journal";
export const lotAddress = (id: string): string => `/lot/${part(id)}`;
export const lotChangeAddress = (id: string): string => `/lot/${part(id)}/change`;

/** The form for a deed; of a lot, or in place of an entry that it corrects. */
export function deedAddress(
  kind: string,
  about: Readonly<{ lot?: string; corrects?: number }> = {},
): string {
  const asked = new URLSearchParams(
    Object.entries(about).map(([name, value]) => [name, String(value)]),
  ).toString();
  return `${JOURNAL}/write/${part(kind)}${asked === "" ? "" : `?${asked}`}`;
}

/** Where calendars find what is due; the key stands in for a session, which they cannot have. */
export const CALENDAR = "/calendar";
export const calendarAddress = (key: string): string => `${CALENDAR}/${part(key)}/due.ics`;
export const isCalendarAddress = (path: string): boolean =>
  /^\/calendar\/[^/]+\/due\.ics$/.test(path);

/**
 * Where to go on to, from a value that a form or an address brought along: a page of ours or none.
 * "//elsewhere" and "/\elsewhere" would lead away.
 */
export function ownAddress(given: unknown): string {
  return typeof given === "string" &&
    /^\/(?![/\\])[\x21-\x7e]{0,500}$/.test(given) &&
    !given.includes("\\")
    ? given
    : NOW;
}
