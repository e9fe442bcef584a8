import type { Reading } from "../../../../shared/reading.js";
import { DAY_MS, SECOND_MS } from "../../../../shared/time.js";
import { WINTER_START_MS, type Winter } from "../labelled.js";
import { SHED_ID, shedSite } from "../shed-site.js";
import type { Behaviour } from "./behaviour.js";
import { beginChance } from "./chance.js";
import { beginDisorders, type DisorderWatch, turnDisorders } from "./disorder.js";
import { type Fault, placeFaults, WINTER_DAYS } from "./faults.js";
import { drawFridge, type Fridge } from "./fridge.js";
import { openDaily } from "./household.js";
import { beginLabels, type LabelWatch, labelsOf, lookAfter, lookBefore } from "./label-watch.js";
import { beginLife, type Life, moveOn } from "./life.js";
import { beginTransmitter, speak, type Transmitter } from "./transmitter.js";
import { tuneFridge } from "./tuning.js";

/** What decides a winter. The same spec gives the same winter; an interval changes no fault. */
export type ApartSpec = Readonly<{ seed: number; intervalMs: number; humidity: boolean }>;

const PROBE_ID = `${SHED_ID}-air`;
const WINTER_S = (WINTER_DAYS * DAY_MS) / SECOND_MS;

/** A winter at one moment. Changed in place. */
type Course = Readonly<{
  fridge: Fridge;
  behaviour: Behaviour;
  faults: readonly Fault[];
  life: Life;
  transmitter: Transmitter;
  disorders: DisorderWatch;
  labels: LabelWatch;
}>;

/**
 * Live through a winter of a fridge whose physics was written apart from `sensors/simulated`. Some
 * seconds of work.
 */
export function liveApart(spec: ApartSpec): Winter {
  const course = beginCourse(spec);
  const readings = liveUntil(course, WINTER_S);
  const { fridge, behaviour, labels } = course;
  const startMs = WINTER_START_MS;
  return {
    fridgeName: "apart",
    seed: spec.seed,
    humidity: spec.humidity,
    site: shedSite([PROBE_ID], spec.intervalMs, zoneOf(fridge)),
    startMs,
    endMs: startMs + WINTER_DAYS * DAY_MS,
    readings,
    labels: labelsOf(labels, fridge, behaviour.airC, PROBE_ID, startMs),
  };
}

/** Draw and set a fridge, and all that is to happen to it. */
export function beginCourse({ seed, intervalMs, humidity }: ApartSpec): Course {
  const fridge = drawFridge(seed);
  const { tuning, behaviour } = tuneFridge(fridge);
  const chance = beginChance(seed, "calendar");
  const calendar = placeFaults(chance, fridge, openDaily(chance, fridge.household, WINTER_DAYS));
  const { faults } = calendar;
  const intervalS = intervalMs / SECOND_MS;
  const broadcast = { probeId: PROBE_ID, startMs: WINTER_START_MS, intervalS, humidity };
  const life = beginLife(fridge, tuning, calendar);
  return {
    fridge,
    behaviour,
    faults,
    life,
    transmitter: beginTransmitter(seed, broadcast),
    disorders: beginDisorders(faults, life.simulation),
    labels: beginLabels(faults),
  };
}

/** Live on to `untilS` seconds of the winter; the readings that arrived, in time order. */
export function liveUntil(course: Course, untilS: number): Reading[] {
  const { life, faults, transmitter, disorders, labels } = course;
  const { simulation } = life;
  const readings: Reading[] = [];
  while (life.atS < untilS) {
    lookBefore(labels, life);
    const minutePassed = moveOn(life, Math.min(transmitter.dueS, untilS));
    if (minutePassed) turnDisorders(disorders, simulation, life.atS);
    lookAfter(labels, life, disorders.rightedS);
    if (life.atS < transmitter.dueS) continue;
    const silent = isSilent(faults, transmitter.dueS);
    const reading = speak(transmitter, simulation, life.atS);
    if (reading !== null && !silent) readings.push(reading);
  }
  return readings;
}

function isSilent(faults: readonly Fault[], atS: number): boolean {
  return faults.some((f) => f.kind === "probe-mute" && atS >= f.startS && atS < f.endS);
}

/** Zones of whole hours bear the sign of the way to UTC: IANA time zone database, file etcetera. */
function zoneOf({ household: { utcOffsetH } }: Fridge): string {
  if (utcOffsetH === 0) return "Etc/GMT";
  return `Etc/GMT${utcOffsetH > 0 ? "-" : "+"}${Math.abs(utcOffsetH)}`;
}
