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
