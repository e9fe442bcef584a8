import type { Cause } from "../shared/excursion.js";
import { HOUR_MS, MINUTE_MS } from "../shared/time.js";
import type { AirNews } from "./air-watch.js";

/** What stirs a fridge's air, and can leave water behind. */
type Stir = Readonly<{
  cause: Extract<Cause, "opening" | "defrost" | "door-ajar">;
  sinceMs: number;
  untilMs: number;
}>;

/** A stretch in which water lay on the cocoons, or on a wall that was not freezing. */
export type WetSpell = Readonly<{
  surface: "cocoons" | "wall";
  fromMs: number;
  toMs: number;
  /** Time that it was wet within the stretch, ms. */
  wetMs: number;
  /** The thickest film, g/m², which is as many µm of water; 0 where only a probe in a box says wet. */
  mostGPerM2: number;
  /** What came before it; null where nothing did that was noticed. */
  after: Stir["cause"] | null;
}>;

export type WetSpells = Readonly<{
  /** Newest last; the last of a surface may be going on. */
  spells: readonly WetSpell[];
  /** Newest last. */
  stirs: readonly Stir[];
}>;

export const NEVER_WET: WetSpells = { spells: [], stirs: [] };

/** What is dry for less is the same spell; our choice, half a turn of a compressor. */
const BREAK_MS = 30 * MINUTE_MS;
/** Moist air that came in at a door has condensed or gone by then; our choice. */
const AFTER_MS = HOUR_MS;
/** Humidity is judged in slots, so that a spell may seem to begin so long before its cause. */
const SLOT_MS = 5 * MINUTE_MS;
const KEPT = 8;

/** Note openings, defrosts and doors left open that are over; what is not one of them is passed by. */
export function noteStirs(state: WetSpells, news: readonly AirNews[]): WetSpells {
  const stirs = news.flatMap((item): Stir[] => {
    if (item.kind !== "over" || item.cause === "cooling-lost") return [];
    const { cause, sinceMs, untilMs } = item;
    return [{ cause, sinceMs, untilMs }];
  });
  return stirs.length === 0 ? state : { ...state, stirs: [...state.stirs, ...stirs].slice(-KEPT) };
}

/** How wet a surface was in a slot: time, ms, and film at its end, g/m². */
export type SlotWet = Readonly<{ surface: WetSpell["surface"]; wetMs: number; filmGPerM2: number }>;

/**
 * Follow a surface by a slot that ends at `atMs`. Dry slots change nothing but that the cause of a
 * spell may be known by now. Total.
 */
export function stepWetSpells(state: WetSpells, slot: SlotWet, atMs: number): WetSpells {
  const { surface, wetMs, filmGPerM2 } = slot;
  const at = state.spells.findLastIndex((spell) => spell.surface === surface);
  const last = state.spells[at];
  const isSame = last !== undefined && atMs - last.toMs < BREAK_MS;
  if (wetMs <= 0 && filmGPerM2 <= 0) {
    const after = isSame && last.after === null ? causeOf(last.fromMs, state.stirs) : null;
    return after === null
      ? state
      : { ...state, spells: state.spells.with(at, { ...last!, after }) };
  }
  const fromMs = isSame ? last.fromMs : atMs - wetMs;
  const spell: WetSpell = {
    surface,
    fromMs,
    toMs: atMs,
    wetMs: (isSame ? last.wetMs : 0) + wetMs,
    mostGPerM2: Math.max(isSame ? last.mostGPerM2 : 0, filmGPerM2),
    after: (isSame ? last.after : null) ?? causeOf(fromMs, state.stirs),
  };
  const spells = isSame ? state.spells.with(at, spell) : [...state.spells, spell].slice(-KEPT);
  return { ...state, spells };
}

function causeOf(fromMs: number, stirs: readonly Stir[]): WetSpell["after"] {
  const before = stirs.findLast(
    ({ sinceMs, untilMs }) => fromMs >= sinceMs - SLOT_MS && fromMs <= untilMs + AFTER_MS,
  );
  return before?.cause ?? null;
}
