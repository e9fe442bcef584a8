import type { Finding } from "../shared/excursion.js";
import type { Chamber } from "../shared/site.js";
import { HOUR_MS } from "../shared/time.js";
import { beginChillDays, type ChillDays, stepChillDays } from "./chill-days.js";
import { type Climate, type ClimateTerms, type PlaceSlot, stepClimate } from "./climate.js";
import { climateLimitsOf } from "./climate-limits.js";
import {
  type DampDeeds,
  type Dampness,
  dampAsk,
  NOT_DAMP,
  stepDampness,
  worstMould,
} from "./dampness.js";
import { stepDry } from "./dry-side.js";
import { type Dryness, driestOf, dryAsk, NOT_DRY, stepDryness } from "./dryness.js";
import type { Gathering } from "./gathering.js";
import { vapourPressureHpa } from "./humid-air.js";
import { feelLane, type Lane, type Present, type WaterNow } from "./lane.js";
import { seenWithin } from "./mute.js";
import { profileIn } from "./species.js";
import { lastDone, type Tended } from "./tended.js";
import { stepWet } from "./wet-side.js";
import { NEVER_WET, type SlotWet, stepWetSpells, type WetSpells } from "./wet-spells.js";
import { beginWetness, stepWetness, type Wetness } from "./wetness.js";

/** What of a chamber is judged in slots of five minutes: its water, and its count of cold days. */
export type Slow = Readonly<{
  chill: ChillDays | null;
  /** The air first, then boxes in order of their probes' ids. Empty where none tells humidity. */
  places: readonly Climate[];
  wall: Wetness | null;
  dampness: Dampness;
  dryness: Dryness;
  wet: Lane | null;
  dry: Lane | null;
  wetSpells: WetSpells;
  /** As it stood at the end of the last slot. */
  water: WaterNow | null;
}>;

export const BEGIN_SLOW: Slow = {
  chill: null,
  places: [],
  wall: null,
  dampness: NOT_DAMP,
  dryness: NOT_DRY,
  wet: null,
  dry: null,
  wetSpells: NEVER_WET,
  water: null,
};

/**
 * A longer step was not seen, unless the probe speaks no oftener; and a box whose probe was silent
 * for longer no longer speaks for the chamber. Our choice, for probes that speak twice an hour.
 */
const SEEN_MS = HOUR_MS;

type Step = Readonly<{ slow: Slow; findings: readonly Finding[] }>;
const NONE: readonly Finding[] = [];

/**
 * Judge a slot that is over.
 *
 * @param slot what was gathered in it
 * @param present the chamber at the moment at which it is judged; its `water` is not looked at
 */
export function stepSlow(
  slow: Slow,
  slot: Gathering,
  present: Present,
  tended: Tended,
  chamber: Chamber,
  timezone: string,
): Step {
  const { slotEndMs: atMs } = slot;
  const cocoonC = slot.cocoonSumC / slot.cocoonN;
  const { chillBelowC } = profileIn(chamber);
  const chill = stepChillDays(
    slow.chill ?? beginChillDays(),
    atMs,
    cocoonC,
    chillBelowC.value,
    seenWithin(slot.freshMs, SEEN_MS),
  );
  const told = placesOf(slot, cocoonC);
  if (told.length === 0) return { slow: { ...slow, chill, water: null }, findings: NONE };
  const limits = climateLimitsOf(chamber);
  const terms: ClimateTerms = {
    humidityBandPct: chamber.humidityBandPct,
    mouldMaterial: limits.mouldMaterial,
    timezone,
    dampedMs: lastDone(tended, "damped", atMs),
  };
  const places = stepPlaces(slow.places, told, terms);
  const speaking = speakingOf(places, atMs);
  const wall = slot.wallN === 0 || slot.airN === 0 ? slow.wall : stepWall(slow.wall, slot);
  const isWallWet = (wall?.filmGPerM2 ?? 0) > 0 && slot.wallSumC > 0;
  const wetSpells = [cocoonsWet(slow.places, speaking), wallWet(slow.wall, wall, isWallWet)].reduce(
    (spells, wet) => stepWetSpells(spells, wet, atMs),
    slow.wetSpells,
  );
  const deeds = deedsOf(tended, atMs);
  const dampness = stepDampness(slow.dampness, speaking, isWallWet, atMs, limits, deeds);
  const dryness = stepDryness(slow.dryness, speaking, atMs, chamber.humidityBandPct);
  const water = waterNow(speaking);
  const now = { ...present, water };
  const wetAsk = dampAsk(dampness, speaking, atMs, limits);
  const wettest = speaking.reduce((a, b) => (b.slowPct > a.slowPct ? b : a));
  const felt = (lane: Lane | null) => (lane === null ? null : feelLane(lane, cocoonC));
  const wet = stepWet(
    felt(slow.wet),
    wetAsk,
    dampness,
    now,
    limits,
    wettest.probeId,
    deeds.dampedMs,
  );
  const ask = dryAsk(dryness, atMs, limits);
  const dry = stepDry(felt(slow.dry), ask, dryness, now, chamber, driestOf(speaking));
  return {
    slow: {
      chill,
      places,
      wall,
      dampness,
      dryness,
      wet: wet.lane,
      dry: dry.lane,
      wetSpells,
      water,
    },
    findings: [...wet.findings, ...dry.findings],
  };
}

/** The wettest of the places that speak; a box of its own measures no film. */
function cocoonsWet(before: readonly Climate[], speaking: readonly Climate[]): SlotWet {
  let [wetMs, filmGPerM2] = [0, 0];
  for (const place of speaking) {
    const was = before.find((p) => p.probeId === place.probeId)?.wetMs ?? 0;
    wetMs = Math.max(wetMs, place.wetMs - was);
    if (place.probeId === null) filmGPerM2 = Math.max(filmGPerM2, place.film.filmGPerM2);
  }
  return { surface: "cocoons", wetMs, filmGPerM2 };
}

/** Frost on a freezing wall is no water. */
function wallWet(before: Wetness | null, wall: Wetness | null, isWet: boolean): SlotWet {
  const wetMs = isWet ? (wall?.wetMs ?? 0) - (before?.wetMs ?? 0) : 0;
  return { surface: "wall", wetMs, filmGPerM2: isWet ? (wall?.filmGPerM2 ?? 0) : 0 };
}

function placesOf(slot: Gathering, cocoonC: number): readonly PlaceSlot[] {
  const { slotEndMs: atMs, airN, airSumHpa, freshMs } = slot;
  const boxes = slot.boxes.map(({ probeId, freshMs, n, sumC, sumPct }): PlaceSlot => {
    const boxC = sumC / n;
    const vapourHpa = vapourPressureHpa(boxC, sumPct / n);
    return { atMs, probeId, cocoonC: boxC, vapourHpa, seenMs: seenWithin(freshMs, SEEN_MS) };
  });
  if (airN === 0) return boxes;
  const seenMs = seenWithin(freshMs, SEEN_MS);
  return [{ atMs, probeId: null, cocoonC, vapourHpa: airSumHpa / airN, seenMs }, ...boxes];
}

function stepPlaces(
  before: readonly Climate[],
  told: readonly PlaceSlot[],
  terms: ClimateTerms,
): readonly Climate[] {
  let places = before;
  for (const slot of told) {
    const at = places.findIndex((p) => p.probeId === slot.probeId);
    const next = stepClimate(places[at] ?? null, slot, terms);
    places = at < 0 ? [...places, next].sort(byPlace) : places.with(at, next);
  }
  return places;
}

const byPlace = (a: Climate, b: Climate): number =>
  (a.probeId ?? "") < (b.probeId ?? "") ? -1 : 1;

/** Boxes that measure humidity take precedence over what the air makes likely. */
function speakingOf(places: readonly Climate[], atMs: number): readonly Climate[] {
  const fresh = places.filter((p) => atMs - p.atMs <= p.seenMs);
  const boxes = fresh.filter((p) => p.probeId !== null);
  return boxes.length > 0 ? boxes : fresh;
}

function waterNow(speaking: readonly Climate[]): WaterNow {
  return {
    humidityPct: Math.max(...speaking.map((p) => p.slowPct)),
    from: speaking[0]!.probeId === null ? "air" : "box",
    wetHours: Math.max(...speaking.map((p) => p.wetMs)) / HOUR_MS,
    mouldIndex: worstMould(speaking),
  };
}

function stepWall(wall: Wetness | null, slot: Gathering): Wetness {
  const wallC = slot.wallSumC / slot.wallN;
  return stepWetness(
    wall ?? beginWetness(),
    slot.slotEndMs,
    slot.airSumHpa / slot.airN,
    wallC,
    seenWithin(slot.freshMs, SEEN_MS),
  );
}

function deedsOf(tended: Tended, atMs: number): DampDeeds {
  const looks = [lastDone(tended, "mould-seen", atMs), lastDone(tended, "no-mould", atMs)];
  const lookedMs = looks.reduce((a, b) => (a === null || b === null ? (a ?? b) : Math.max(a, b)));
  return { dampedMs: lastDone(tended, "damped", atMs), lookedMs };
}
