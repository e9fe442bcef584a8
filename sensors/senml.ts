/** One record of a SenML pack with its base values applied (RFC 8428, section 4.6). */
export type SenmlRecord = Readonly<{
  /** Base name and name together. */
  name: string;
  /** null where neither record nor base has one. */
  unit: string | null;
  /** Base time and time together, s; as sent, so that it may be relative. */
  timeS: number;
  /** Whether `timeS` counts from "now" and not from 1970 (section 4.5.3). */
  relative: boolean;
  /** A number ("v"), text ("vs", "vd") or truth value ("vb"); null with a sum alone. */
  value: number | string | boolean | null;
  /** Integral over time; null where the record has none. */
  sum: number | null;
}>;

/** A pack resolved, oldest record first, or the fault that makes it unusable. */
export type SenmlPack =
  | Readonly<{ records: readonly SenmlRecord[]; fault: null }>
  | Readonly<{ records: null; fault: string }>;

/** The version of the format that RFC 8428 defines, section 4.1. */
const VERSION = 10;
/** From here on a time counts from 1970, section 4.5.3. */
const ABSOLUTE_FROM_S = 2 ** 28;
/** Section 4.5.1. */
const NAME = /^[A-Za-z0-9][A-Za-z0-9:./_-]*$/;

// Section 4.3, table 1.
const TEXT_FIELDS = ["bn", "bu", "n", "u", "vs", "vd"] as const;
const NUMBER_FIELDS = ["bt", "bv", "bs", "bver", "v", "s", "t", "ut"] as const;
const VALUE_FIELDS = ["v", "vs", "vb", "vd"] as const;

type Fields = Readonly<
  Partial<Record<(typeof TEXT_FIELDS)[number], string>> &
    Partial<Record<(typeof NUMBER_FIELDS)[number], number>> & { vb?: boolean }
>;

type Base = { bn: string; bt: number; bu: string | null; bv: number | null; bs: number | null };

/**
 * Apply the base values of a SenML pack to its records.
 *
 * A pack with one wrong record is refused whole: a wrong base value would shift all that follow.
 * Unknown fields are ignored unless they end in "_". Records without a value vanish.
 *
 * @param pack the JSON value that arrived. Never throws.
 *
 * Source: RFC 8428, sections 4.1 to 4.6. Section 4.5.4 gives a missing value the base value.
 */
export function resolveSenml(pack: unknown): SenmlPack {
  if (!Array.isArray(pack) || pack.length === 0) return refuse("expected a list of records");
  const base: Base = { bn: "", bt: 0, bu: null, bv: null, bs: null };
  let version: number | null = null;
  const records: SenmlRecord[] = [];
  for (const [index, entry] of pack.entries()) {
    const place = `record ${index + 1}`;
    const fault = findFieldFault(entry);
    if (fault !== null) return refuse(`${place}: ${fault}`);
    const fields = entry as Fields;
    if (fields.bver !== undefined) {
      if (!Number.isInteger(fields.bver) || fields.bver < 1 || fields.bver > VERSION) {
        return refuse(`${place}: version ${fields.bver}, expected at most ${VERSION}`);
      }
      if (version !== null && version !== fields.bver) return refuse(`${place}: a second version`);
      version = fields.bver;
    }
    rebase(base, fields);
    const record = resolveRecord(base, fields);
    if (record === null) continue;
    if (!NAME.test(record.name)) return refuse(`${place}: no SenML name "${record.name}"`);
    if (!Number.isFinite(record.timeS)) return refuse(`${place}: no time`);
    records.push(record);
  }
  records.sort(inTimeOrder);
  return { records, fault: null };
}

function refuse(fault: string): SenmlPack {
  return { records: null, fault };
}

/** Times that count from now come after absolute ones, which a sensor can only have from before. */
function inTimeOrder(a: SenmlRecord, b: SenmlRecord): number {
  return Number(a.relative) - Number(b.relative) || a.timeS - b.timeS;
}

function findFieldFault(entry: unknown): string | null {
  if (typeof entry !== "object" || entry === null || Array.isArray(entry)) return "no object";
  const fields = entry as Record<string, unknown>;
  // Section 4.4: a field that must be understood says so by its last character.
  if (Object.keys(fields).some((label) => label.endsWith("_"))) return "a field ending in _";
  for (const label of TEXT_FIELDS) {
    if (fields[label] !== undefined && typeof fields[label] !== "string")
      return `${label}: no text`;
  }
  for (const label of NUMBER_FIELDS) {
    if (fields[label] !== undefined && !Number.isFinite(fields[label]))
      return `${label}: no number`;
  }
  if (fields.vb !== undefined && typeof fields.vb !== "boolean")
    return "vb: neither true nor false";
  const values = VALUE_FIELDS.filter((label) => fields[label] !== undefined);
  return values.length > 1 ? `both ${values[0]} and ${values[1]}` : null;
}

function rebase(base: Base, fields: Fields): void {
  base.bn = fields.bn ?? base.bn;
  base.bt = fields.bt ?? base.bt;
  base.bu = fields.bu ?? base.bu;
  base.bv = fields.bv ?? base.bv;
  base.bs = fields.bs ?? base.bs;
}

function resolveRecord(base: Base, fields: Fields): SenmlRecord | null {
  const own = fields.v ?? fields.vs ?? fields.vb ?? fields.vd;
  const isMeasurement = [own, fields.s, fields.n, fields.t, fields.u].some((f) => f !== undefined);
  const sum = fields.s === undefined && base.bs === null ? null : (base.bs ?? 0) + (fields.s ?? 0);
  const value =
    typeof own === "number" ? own + (base.bv ?? 0) : (own ?? (sum === null ? base.bv : null));
  if (!isMeasurement || (value === null && sum === null)) return null;
  const timeS = base.bt + (fields.t ?? 0);
  return {
    name: base.bn + (fields.n ?? ""),
    unit: fields.u ?? base.bu,
    timeS,
    relative: timeS < ABSOLUTE_FROM_S,
    value,
    sum,
  };
}
