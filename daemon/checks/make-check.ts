import { Temporal } from "temporal-polyfill";
import { checkComponents, type Steps } from "../../rules/checks/components.js";
import { ICE_POINT_C } from "../../rules/checks/ice-point.js";
import {
  type FitKind,
  fitFor,
  LINE_PAIRS_LEAST,
  PAIRS_LEAST,
  weighCheck,
} from "../../rules/checks/result.js";
import { saltPoint } from "../../rules/checks/salt-points.js";
import type { Correction, Pair, Quantity, Reference } from "../../shared/check.js";
import { KnownError } from "../../shared/errors.js";
import type { CheckMade } from "./record.js";

/** What a check is to find out, before any pair is taken. */
export type CheckPlan = Readonly<{
  probeId: string;
  quantity: Quantity;
  reference: Reference;
  tolerance: number;
  /** null lets the pairs decide. */
  fit: FitKind | null;
  by: string | null;
  note: string | null;
}>;

/** What it is made of beside the pairs. */
export type MakeContext = Readonly<{
  madeAtMs: number;
  timezone: string;
  /** The correction with which the probe was read up to now. */
  before: Correction | null;
  checkEveryMonths: number;
  /** From when on its correction holds; null for the record only. */
  holdsFromMs: number | null;
}>;

/**
 * How far off a probe may be, to either side. ± 0.5 °C is what public-health programmes ask of
 * fridge thermometers (California VFC, "Data loggers"); ± 3 %RH is common practice, no source.
 */
export const TOLERANCES: Readonly<Record<Quantity, number>> = { temperature: 0.5, humidity: 3 };

/** A slope is fitted to pairs over so wide a span, K and %RH; our choice. */
const LINE_SPANS: Readonly<Record<Quantity, number>> = { temperature: 5, humidity: 20 };
/**
 * Pairs further apart are a slip of the pen, another unit, or a probe that never was in the ice: it
 * reads as steady in a room as in a bath. One that is truly so far off is to be changed. Our choice.
 */
const APART_MOST: Readonly<Record<Quantity, number>> = { temperature: 5, humidity: 30 };

/**
 * What the reference truly was while it showed a value.
 *
 * @param shown what it showed; of no account for ice and salts, which know their value
 */
export function trueValue(reference: Reference, shown: number): number {
  if (reference.kind === "ice") return ICE_POINT_C;
  if (reference.kind === "instrument") return shown + reference.correction;
  return saltPoint(reference.salt, reference.temperatureC).humidityPct;
}

/**
 * Make a check of the pairs taken.
 *
 * @throws {KnownError} CHECK_REFUSED where nothing could be said, or nobody would believe it
 */
export function makeCheck(
  plan: CheckPlan,
  pairs: readonly Pair[],
  steps: Steps,
  context: MakeContext,
): CheckMade {
  const { probeId, quantity, reference, tolerance, by, note } = plan;
  const fit = plan.fit ?? fitFor(pairs, LINE_SPANS[quantity]);
  refuseUnfit(pairs, fit, quantity);
  const { madeAtMs, before, holdsFromMs } = context;
  const components = checkComponents(quantity, reference, steps);
  return {
    kind: "check",
    id: `${probeId}.${quantity}.${stampOf(madeAtMs)}`,
    madeAtMs,
    probeId,
    quantity,
    reference,
    pairs,
    steps,
    tolerance,
    result: weighCheck({ pairs, fit, tolerance, before, components }),
    holdsFromMs,
    dueAtMs: dueAt(context),
    by,
    note,
  };
}

function refuseUnfit(pairs: readonly Pair[], fit: FitKind, quantity: Quantity): void {
  const least = fit === "line" ? LINE_PAIRS_LEAST : PAIRS_LEAST;
  const refuse = (why: string): never => {
    throw new KnownError("CHECK_REFUSED", why);
  };
  if (pairs.length < least)
    refuse(
      `${pairs.length} pairs, expected ${least} or more${fit === "line" ? " for a line" : ""}`,
    );
  if (fit === "line" && new Set(pairs.map(({ probe }) => probe)).size < 2)
    refuse("all pairs are at one value, expected two or more for a line");
  const apart = Math.max(...pairs.map(({ probe, reference }) => Math.abs(probe - reference)));
  if (apart > APART_MOST[quantity]) {
    const unit = quantity === "temperature" ? "K" : "%RH";
    refuse(
      `probe and reference are ${apart.toFixed(1)} ${unit} apart, expected ` +
        `${APART_MOST[quantity]} at most; is one of them in another unit, or not in place`,
    );
  }
}

function dueAt({ madeAtMs, timezone, checkEveryMonths }: MakeContext): number {
  const made = Temporal.Instant.fromEpochMilliseconds(madeAtMs).toZonedDateTimeISO(timezone);
  return made.add({ months: checkEveryMonths }).startOfDay().epochMilliseconds;
}

/** An instant for an id, to the millisecond: "20261125T101502.040Z". */
export const stampOf = (atMs: number): string =>
  new Date(atMs).toISOString().replaceAll(/[-:]/g, "");
