import { closest } from "fastest-levenshtein";
import type { FitKind } from "../../../rules/checks/result.js";
import { SALT_COLDEST_C, SALT_WARMEST_C } from "../../../rules/checks/salt-points.js";
import type { ProbeSource } from "../../../sensors/source.js";
import { QUANTITIES, type Quantity, SALTS, type Salt } from "../../../shared/check.js";
import { KnownError } from "../../../shared/errors.js";
import { readTypedNumber, type TypedNumber } from "../../checks/typed-number.js";
import type { Config } from "../../config.js";

/** What may stand on the command line; all of it text. */
export type CheckOptions = Readonly<{
  probe?: string;
  quantity?: string;
  reference?: string;
  referenceName?: string;
  referenceCorrection?: string;
  referenceUncertainty?: string;
  saltTemperature?: string;
  reads?: string;
  pairs?: string;
  fit?: string;
  tolerance?: string;
  from?: string;
  recordOnly?: boolean;
  inPlace?: boolean;
  wait?: number;
  by?: string;
  note?: string;
  how?: string;
  history?: boolean;
  certificate?: string | true;
  html?: boolean;
  withdraw?: string;
  json?: boolean;
}>;

export const wrongUse = (why: string): KnownError => new KnownError("WRONG_USE", why);

/** The kind of a reference as it is typed: "ice", "instrument" or the formula of a salt. */
export type ReferenceKind = "ice" | "instrument" | Salt;
const REFERENCE_KINDS: readonly ReferenceKind[] = ["ice", "instrument", ...SALTS];

/** @throws {KnownError} WRONG_USE naming the nearest */
export function readReferenceKind(text: string): ReferenceKind {
  const same = (a: string, b: string) => a.toLowerCase() === b.toLowerCase();
  const known = REFERENCE_KINDS.find((kind) => same(kind, text));
  if (known !== undefined) return known;
  const nearest = closest(text, [...REFERENCE_KINDS]);
  throw wrongUse(
    `reference "${text}", expected one of ${REFERENCE_KINDS.join(", ")}; nearest is ${nearest}`,
  );
}

/** The quantity that a kind of reference is for; null where it may be either. */
export function quantityOf(kind: ReferenceKind): Quantity | null {
  if (kind === "instrument") return null;
  return kind === "ice" ? "temperature" : "humidity";
}

export function readQuantity(text: string): Quantity {
  const known = QUANTITIES.find((quantity) => quantity === text);
  if (known === undefined) throw wrongUse(`quantity "${text}", expected temperature or humidity`);
  return known;
}

export function readFit(text: string | undefined): FitKind | null {
  if (text === undefined) return null;
  if (text === "offset" || text === "line") return text;
  throw wrongUse(`fit "${text}", expected offset or line`);
}

/** @throws {KnownError} WRONG_USE naming the option */
export function readNumber(
  option: string,
  text: string,
  quantity: Quantity,
  kind: "value" | "difference",
  span: Readonly<{ low: number; high: number }>,
): TypedNumber {
  const typed = readTypedNumber(text, quantity, kind);
  if (typed !== null && typed.value >= span.low && typed.value <= span.high) return typed;
  const unit = quantity === "humidity" ? "%RH" : kind === "value" ? "°C" : "K";
  throw wrongUse(`${option} "${text}", expected a number from ${span.low} to ${span.high} ${unit}`);
}

export const SALT_SPAN = { low: SALT_COLDEST_C, high: SALT_WARMEST_C };

/** The probe of an id. @throws {KnownError} WRONG_USE naming the nearest */
export function findProbe(config: Config, id: string): Config["site"]["probes"][number] {
  const { probes } = config.site;
  const known = probes.find((probe) => probe.id === id);
  if (known !== undefined) return known;
  const ids = probes.map((probe) => probe.id);
  const nearest = ids.length === 0 ? "there is none yet" : `nearest is ${closest(id, ids)}`;
  throw wrongUse(`no probe ${id} in the config; ${nearest}`);
}

/** What a probe measures, as far as its entry in the config says. */
export function measuredBy(source: ProbeSource): readonly Quantity[] {
  if (source.payload === "number") return [source.quantity];
  const named = QUANTITIES.filter((quantity) => source[quantity] !== null);
  return named.length > 0 ? named : QUANTITIES;
}
