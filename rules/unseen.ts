import type { Beside, DarkStretch, Finding } from "../shared/excursion.js";
import type { Span } from "../shared/site.js";
import { DAY_MS, HOUR_MS } from "../shared/time.js";
import { boundDark, type Gap } from "./dark.js";
import { findingOf, type Lane, openLane, type Present } from "./lane.js";
import type { Deaf } from "./mute.js";
import { NEVER_SUITABLE_C } from "./never-suitable.js";

/** Stretches of a chamber that nobody saw. */
export type Unseen = Readonly<{
  /** The last few, oldest first. */
  stretches: readonly DarkStretch[];
  /** Bounds over all of them, °C; null before the first. */
  boundC: Span | null;
  /** The one that asks the keeper to look at the cocoons, until they have or a day has passed. */
  asked: Readonly<{ lane: Lane; openedAtMs: number; stretch: DarkStretch }> | null;
  /** The last long stretch in which Drowse did not listen. */
  deaf: Deaf | null;
}>;

export const ALL_SEEN: Unseen = { stretches: [], boundC: null, asked: null, deaf: null };

/** A shorter silence hides nothing that matters to cocoons; our choice. */
export const DARK_LEAST_MS = HOUR_MS;
const KEPT = 8;
/** A longer one is worth a look even where all is well again afterwards; our choice. */
const LONG_MS = DAY_MS;
/**
 * What stopped Drowse so long may have stopped the fridge: one that is kept shut keeps cold for
 * about four hours without power. Source: FoodSafety.gov, "Food Safety During Power Outage".
 */
const DEAF_LONG_MS = 4 * HOUR_MS;
/** The request is dropped after this: what was not looked at in a day is no longer news. */
const ASKS_MS = DAY_MS;

type Step = Readonly<{ unseen: Unseen; findings: readonly Finding[] }>;
const NONE: readonly Finding[] = [];

/**
 * Take in a gap that is over. Where it may have held what is never suitable, and the chamber has
 * not come back from it, or could have come back unseen, the keeper is asked to look.
 *
 * @param isBack whether cocoons and air were seen again where they usually are
 */
export function addGap(
  unseen: Unseen,
  gap: Gap,
  isBack: boolean,
  present: Present,
  beside: Beside,
): Step {
  const { atMs } = present;
  const stretch = stretchOf(gap, atMs);
  const { coldestC, warmestC } = stretch;
  const { boundC, asked } = unseen;
  const next: Unseen = {
    stretches: [...unseen.stretches, stretch].slice(-KEPT),
    boundC: {
      low: Math.min(coldestC, boundC?.low ?? coldestC),
      high: Math.max(warmestC, boundC?.high ?? warmestC),
    },
    asked,
    deaf: unseen.deaf,
  };
  const isLong = gap.gapMs >= LONG_MS || deafWithin(unseen, stretch) >= DEAF_LONG_MS;
  const isWorrying = warmestC >= NEVER_SUITABLE_C && (!isBack || isLong);
  if (asked !== null || !isWorrying) return { unseen: next, findings: NONE };
  const lane = openLane("dark", "warm", "visit", null, stretch.fromMs, present);
  const finding = findingOf(lane, "opened", present, sayingOf(stretch, beside));
  return {
    unseen: { ...next, asked: { lane, openedAtMs: atMs, stretch } },
    findings: [finding],
  };
}

/** Note that nobody listened; one stretch with the last, if nothing was seen between them. */
export function addDeaf(unseen: Unseen, { fromMs, toMs }: Deaf, seenMs: number): Unseen {
  if (toMs - fromMs < DARK_LEAST_MS) return unseen;
  const isOne = unseen.deaf !== null && unseen.deaf.toMs >= seenMs;
  return { ...unseen, deaf: { fromMs: isOne ? unseen.deaf.fromMs : fromMs, toMs } };
}

/** For how much of a stretch nobody listened, ms. */
function deafWithin({ deaf }: Unseen, { fromMs, toMs }: DarkStretch): number {
  return deaf === null ? 0 : Math.min(toMs, deaf.toMs) - Math.max(fromMs, deaf.fromMs);
}

/** What a gap that ends at `toMs` can have held. */
export function stretchOf(gap: Gap, toMs: number): DarkStretch {
  const { coldestC, warmestC, uncooledC } = boundDark(gap);
  return { fromMs: toMs - gap.gapMs, toMs, coldestC, warmestC, uncooledC };
}

/** Drop the request once the keeper has looked, or after a day. */
export function endAsking(unseen: Unseen, inspectedMs: number | null, present: Present): Step {
  const { asked } = unseen;
  if (asked === null) return { unseen, findings: NONE };
  const { lane, openedAtMs, stretch } = asked;
  const hasLooked = inspectedMs !== null && inspectedMs >= stretch.toMs;
  if (!hasLooked && present.atMs - openedAtMs < ASKS_MS) return { unseen, findings: NONE };
  const finding = findingOf(lane, "ended", present, sayingOf(stretch, {}));
  return { unseen: { ...unseen, asked: null }, findings: [finding] };
}

function sayingOf(dark: DarkStretch, beside: Beside) {
  return {
    comparedWith: `how fast a fridge warms that nothing cools, and ${NEVER_SUITABLE_C} °C`,
    forecast: null,
    beside: { ...beside, dark },
  };
}
