/**
 * A name or sentence from outside as one harmless line.
 *
 * Line breaks, control characters and marks that turn the writing direction become a space, runs
 * of space one, and what is beyond `limit` characters is cut with an ellipsis. Never throws.
 */
export function oneLine(text: string, limit = 200): string {
  const line = text
    .replace(/[\p{Cc}\p{Zl}\p{Zp}\u200e\u200f\u202a-\u202e\u2066-\u2069\ufeff]+/gu, " ")
    .replace(/ {2,}/g, " ")
    .trim();
  const characters = Array.from(line);
  return characters.length <= limit ? line : `${characters.slice(0, limit - 1).join("")}…`;
}
