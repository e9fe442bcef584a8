import { KnownError } from "../../../shared/errors.js";
import type { Chamber, Site } from "../../../shared/site.js";
import type { Stretch } from "../../drawing/material.js";
import { keptWinters } from "../../season/winters.js";
import type { Store } from "../../store/store.js";
import { readMoment } from "../moment.js";

/** How a keeper names a season: by its days, or not at all for the newest. */
export type SeasonDates = Readonly<{
  from?: string;
  to?: string;
  /** The first day of another season; true for the winter before. */
  beside?: string | true;
}>;

/**
 * The stretches to review: the season asked for and, where one is to stand beside it, the other.
 * None where nothing was ever kept.
 *
 * @throws {KnownError} WRONG_USE on dates that are none, or without another winter
 */
export function chooseSpans(
  store: Pick<Store, "rollups">,
  site: Site,
  chamber: Chamber,
  { from, to, beside }: SeasonDates,
): Stretch[] {
  const winters = keptWinters(store, site, chamber);
  const newest = winters.at(-1);
  if (newest === undefined) return [];
  const span = {
    fromMs: from === undefined ? newest.fromMs : readMoment(from, site),
    toMs: to === undefined ? newest.toMs : readMoment(to, site),
  };
  if (span.toMs <= span.fromMs)
    throw new KnownError(
      "WRONG_USE",
      `the season ends before it begins: ${from ?? ""} to ${to ?? ""}`,
    );
  if (beside === undefined) return [span];
  if (beside !== true) {
    const otherMs = readMoment(beside, site);
    return [span, { fromMs: otherMs, toMs: otherMs + span.toMs - span.fromMs }];
  }
  const before = winters.findLast(({ toMs }) => toMs <= span.fromMs);
  if (before === undefined)
    throw new KnownError(
      "WRONG_USE",
      `no winter before this one was kept in ${chamber.id}; name another season with --beside 2025-10-01`,
    );
  return [span, before];
}
