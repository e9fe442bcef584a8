import type { Cost } from "../../shared/excursion.js";
import type { Chamber, Site } from "../../shared/site.js";
import { HOUR_MS } from "../../shared/time.js";
import type { Course, ExcursionMark, Stretch, WinterMaterial } from "../drawing/material.js";
import type { Store } from "../store/records.js";
import { type AnnotationStore, annotationsOf } from "./annotations.js";
import { hourCourses } from "./hour-courses.js";

/** What a winter is gathered from; a view needs no raw reading. */
export type WinterStore = Pick<Store, "rollups" | "excursions"> & AnnotationStore;

/**
 * Read what a chamber's winter sheet needs from the store.
 *
 * @param span what is to be drawn; it may reach beyond what was kept, and beyond now
 * @param nowMs where the paper begins to be blank
 */
export function gatherWinter(
  store: WinterStore,
  site: Site,
  chamber: Chamber,
  span: Stretch,
  nowMs: number,
): WinterMaterial {
  const known = { fromMs: span.fromMs, toMs: Math.min(span.toMs, nowMs) };
  const courses = hourCourses(store, site, chamber.id, known);
  const watched = watchedOf(courses.cocoons, known);
  return {
    siteName: site.name,
    chamberId: chamber.id,
    bandC: chamber.bandC,
    humidityBandPct: chamber.humidityBandPct,
    span,
    watched,
    ...courses,
    unseen: unseenOf(courses.cocoons, watched),
    excursions: marksOf(store, chamber.id, known),
    ...ordinaryOf(store, chamber.id, known),
    annotations: annotationsOf(store, site, chamber.id, known),
  };
}

function ordinaryOf(store: WinterStore, chamberId: string, { fromMs, toMs }: Stretch) {
  const events = store.excursions.ordinary(chamberId, fromMs, toMs);
  const of = (cause: string) => events.filter((one) => one.cause === cause).map(({ atMs }) => atMs);
  return { openingsMs: of("opening"), defrostsMs: of("defrost") };
}

/** From the first hour known on; nothing at all where none is. */
function watchedOf(course: Course, { toMs }: Stretch): Stretch {
  const fromMs = course[0]?.fromMs ?? toMs;
  return { fromMs, toMs: Math.max(fromMs, toMs) };
}

/** Stretches of an hour or more in which a course has no piece. */
export function unseenOf(course: Course, watched: Stretch): Stretch[] {
  const gaps: Stretch[] = [];
  let seenToMs = watched.fromMs;
  for (const { fromMs, toMs } of course) {
    if (fromMs - seenToMs >= HOUR_MS / 2) gaps.push({ fromMs: seenToMs, toMs: fromMs });
    seenToMs = Math.max(seenToMs, toMs);
  }
  if (watched.toMs - seenToMs >= HOUR_MS) gaps.push({ fromMs: seenToMs, toMs: watched.toMs });
  return gaps;
}

const NOTHING_TAKEN: Cost = {
  degreeHoursAbove: 0,
  degreeHoursBelow: 0,
  reserveDays: 0,
  wetHours: null,
  mouldIndex: null,
};

/** The excursions of one chamber as marks; what ends later than the stretch is not over in it. */
function marksOf(store: WinterStore, chamberId: string, { fromMs, toMs }: Stretch) {
  return store.excursions
    .mattering(fromMs, toMs)
    .filter((excursion) => excursion.chamberId === chamberId)
    .map(
      ({ id, cause, probeId, urgency, startedAtMs, endedAtMs, latest }): ExcursionMark => ({
        id,
        cause,
        probeId: cause.startsWith("probe-") ? probeId : null,
        urgency,
        startedAtMs,
        endedAtMs: endedAtMs !== null && endedAtMs > toMs ? null : endedAtMs,
        cocoonSpanC: latest.cocoonSpanC,
        // What it has taken since is not known yet at the stretch's end.
        cost: latest.atMs > toMs ? NOTHING_TAKEN : latest.cost,
      }),
    );
}
