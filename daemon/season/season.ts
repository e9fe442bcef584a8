import type { ChamberFigures } from "../../rules/season.js";
import type { Chamber, Site } from "../../shared/site.js";
import { DAY_MS } from "../../shared/time.js";
import { seasonSoFar } from "../digest/season-figures.js";
import type { Stretch, WinterMaterial } from "../drawing/material.js";
import type { Store } from "../store/records.js";
import { gatherWinter, type WinterStore } from "./gather-winter.js";
import { type Review, reviewOf } from "./review.js";

/** One chamber's season: what its sheet is drawn from, and its figures. */
export type Season = Readonly<{
  chamber: Chamber;
  material: WinterMaterial;
  review: Review;
  /** What the judge reckoned reading by reading; null where it reckoned another stretch. */
  judged: ChamberFigures | null;
}>;

/** The judge's sums are a season's if they began with it and go on now. */
const BEGAN_WITHIN_MS = DAY_MS;

/** Gather a season of a chamber, as of now. */
export function gatherSeason(
  store: WinterStore & Pick<Store, "judge" | "readings" | "checks">,
  site: Site,
  chamber: Chamber,
  span: Stretch,
  nowMs: number,
): Season {
  const material = gatherWinter(store, site, chamber, span, nowMs);
  const { watched } = material;
  const sums = seasonSoFar(store, site, nowMs)?.chambers.find(
    (one) => one.chamberId === chamber.id,
  );
  const isThis =
    sums !== undefined &&
    sums.fromMs !== null &&
    Math.abs(sums.fromMs - watched.fromMs) < BEGAN_WITHIN_MS &&
    span.toMs > nowMs - BEGAN_WITHIN_MS;
  return {
    chamber,
    material,
    review: reviewOf(material, site.timezone),
    judged: isThis ? sums : null,
  };
}
