const DECIMAL = /^[+-]?(?:\d+(?:\.\d*)?|\.\d+)(?:[eE][+-]?\d+)?$/;
/** More digits than any sensor sends, and few enough to read at once. Our choice. */
const LONGEST = 64;

/**
 * A number in plain ASCII decimal, such as "3.25", "-0.5" or "2.9e0"; white space around it is
 * of no account.
 *
 * @returns null for anything else: "", "nan", "inf", "0x10", "1,5", or what no double can hold.
 * Never throws.
 */
export function parseDecimal(text: string): number | null {
  const trimmed = text.trim();
  if (trimmed.length > LONGEST || !DECIMAL.test(trimmed)) return null;
  const value = Number(trimmed);
  return Number.isFinite(value) ? value : null;
}
