import { Temporal } from "temporal-polyfill";
import { KnownError } from "../../shared/errors.js";
import { parseRfc3339 } from "../../shared/rfc3339.js";
import type { Site } from "../../shared/site.js";

/**
 * A moment as a keeper types it: a day of the site's calendar, or an RFC 3339 date-time.
 *
 * @returns Unix time, ms; of a day its first moment
 * @throws {KnownError} WRONG_USE on anything else
 */
export function readMoment(text: string, site: Pick<Site, "timezone">): number {
  const exact = parseRfc3339(text);
  if (exact !== null) return exact;
  try {
    if (!/^\d{4}-\d\d-\d\d$/.test(text)) throw new RangeError(text);
    return Temporal.PlainDate.from(text).toZonedDateTime(site.timezone).epochMilliseconds;
  } catch (cause) {
    throw new KnownError(
      "WRONG_USE",
      `time "${text}", expected a day such as 2026-01-11 or 2026-01-11T03:15:00Z`,
      { cause },
    );
  }
}
