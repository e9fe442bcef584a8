import type { Span } from "../../shared/site.js";
import { Z_95 } from "../trend.js";

/** A share of things counted, with its interval; all from 0 to 1. */
export type Proportion = Readonly<{ share: number; span: Span }>;

/**
 * The share that `count` is of `of`, with the 95 % interval of Wilson's score, which stays
 * honest for small samples and for none or all of them, where the usual one would have no width.
 *
 * @param count whole, from 0 to `of`
 * @param of whole, above 0
 * @throws {RangeError} on anything else
 *
 * Source: Wilson EB (1927), J. Am. Stat. Assoc. 22:209–212; Newcombe RG (1998), Stat. Med.
 * 17:857–872, method 3.
 */
export function proportionOf(count: number, of: number): Proportion {
  if (!(Number.isInteger(of) && of > 0)) throw new RangeError(`${of} is no sample`);
  if (!(Number.isInteger(count) && count >= 0 && count <= of))
    throw new RangeError(`${count} is no part of ${of}`);
  const share = count / of;
  const z2 = Z_95 * Z_95;
  const middle = 2 * count + z2;
  const reach = Z_95 * Math.sqrt(z2 + 4 * count * (1 - share));
  const scale = 2 * (of + z2);
  // Rounding alone would leave a hair below 0 or above 1 where it is exact.
  const low = count === 0 ? 0 : (middle - reach) / scale;
  const high = count === of ? 1 : (middle + reach) / scale;
  return { share, span: { low, high } };
}
