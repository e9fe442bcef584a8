import type { Finding } from "../../shared/excursion.js";
import { isAmongCocoons, type Probe, type Site, type Span } from "../../shared/site.js";
import { DAY_MS } from "../../shared/time.js";
import type { ChamberState } from "../chamber-state.js";
import { excursionIdOf } from "../lane.js";
import { probeIndex } from "../probe-index.js";
import { theilSen, Z_95 } from "../trend.js";
import { faultFinding } from "./fault-finding.js";
import type { ProbeHealth, ToldFault } from "./health.js";

/** How the daily means of two probes of one chamber compare. */
export type Parting = Readonly<{
  /** Ids in the order of the site's probes. */
  one: string;
  other: string;
  /** Days since 1970 in UTC, and by how much the other was above the one, K; oldest first. */
  days: readonly number[];
  apartK: readonly number[];
  told: ToldFault | null;
}>;

/** Enough for a slope whose span means something; our choice. */
const DAYS_LEAST = 14;
/** Three months: older days say how it was, not how it goes. Our choice. */
const DAYS_MOST = 90;
/**
 * By how much two probes must have parted for sure, K: two in the air, or two in boxes, by the
 * tolerance they are checked against; one in the air and one in a box by twice as much, since a
 * fridge that works harder as the winter goes on moves the one against the other. Our choice.
 */
const ALIKE_K = 0.5;
const UNLIKE_K = 1;
/** So many times that much asks for a visit, so small a share of it is none any more. */
const VISIT = 2;
const OVER = 0.5;

/** How far two probes have surely parted, K, with the span of it; null while nobody can say. */
export function partedK({ days, apartK }: Pick<Parting, "days" | "apartK">): Span | null {
  if (days.length < DAYS_LEAST) return null;
  const trend = theilSen(
    days.map((x, i) => ({ x, y: apartK[i]! })),
    Z_95,
  );
  if (trend === null) return null;
  const forDays = days.at(-1)! - days[0]!;
  return { low: trend.slopeSpan.low * forDays, high: trend.slopeSpan.high * forDays };
}

/** What is sure of a span: its end nearer to zero, or nothing where zero is in it. */
const sureK = ({ low, high }: Span): number => (low > 0 ? low : high < 0 ? -high : 0);

type Parted = Readonly<{ partings: readonly Parting[]; findings: readonly Finding[] }>;

/**
 * Compare two probes of a chamber by one more day, where both have told it whole.
 *
 * @param healths in the order of the site's probes
 */
export function comparePartings(
  partings: readonly Parting[],
  healths: readonly ProbeHealth[],
  atMs: number,
  site: Site,
  chambers: readonly ChamberState[],
): Parted {
  const findings: Finding[] = [];
  const next: Parting[] = [];
  for (const [i, one] of site.probes.entries())
    for (const [j, other] of site.probes.entries()) {
      if (j <= i || !isComparable(one, other)) continue;
      const known = partings.find((p) => p.one === one.id && p.other === other.id);
      const before = known ?? beginParting(one.id, other.id);
      const parting = addDay(before, healths[i]!, healths[j]!);
      if (parting === before) next.push(before);
      else next.push(tell(parting, one, other, atMs, chambers, findings));
    }
  for (const { one, other, told } of partings) {
    const probe = site.probes[probeIndex(site).get(other) ?? -1];
    // What it was compared with has gone from the config.
    if (told !== null && probe !== undefined && !probeIndex(site).has(one))
      findings.push(faultFinding(probe, told, "probe-drift", "ended", atMs, chambers));
  }
  return { partings: next, findings };
}

const isComparable = (one: Probe, other: Probe): boolean =>
  one.chamberId === other.chamberId && isAmongCocoons(one.place) && isAmongCocoons(other.place);

function beginParting(one: string, other: string): Parting {
  return { one, other, days: [], apartK: [], told: null };
}

function addDay(parting: Parting, one: ProbeHealth, other: ProbeHealth): Parting {
  const day = one.wholeDay;
  const isNew = day > (parting.days.at(-1) ?? 0);
  if (!isNew || other.wholeDay !== day || one.meanC === null || other.meanC === null)
    return parting;
  return {
    ...parting,
    days: [...parting.days, day].slice(-DAYS_MOST),
    // Thousandths, as readings are stored: more digits would say nothing and fill the memory.
    apartK: [...parting.apartK, toThousandths(other.meanC - one.meanC)].slice(-DAYS_MOST),
  };
}

const toThousandths = (k: number): number => Math.round(k * 1_000) / 1_000;

function tell(
  parting: Parting,
  one: Probe,
  other: Probe,
  atMs: number,
  chambers: readonly ChamberState[],
  findings: Finding[],
): Parting {
  const parted = partedK(parting);
  const sure = parted === null ? 0 : sureK(parted);
  const limitK = one.place === other.place ? ALIKE_K : UNLIKE_K;
  const { told } = parting;
  const say = (fault: ToldFault, change: Finding["change"]): void => {
    findings.push(faultFinding(other, fault, "probe-drift", change, atMs, chambers));
  };
  if (told === null) {
    if (sure < limitK) return parting;
    const sinceMs = parting.days[0]! * DAY_MS;
    const opened: ToldFault = {
      excursionId: excursionIdOf(other.id, `drift-from-${one.id}`, sinceMs),
      urgency: sure >= VISIT * limitK ? "visit" : "note",
      sinceMs,
      openedAtMs: atMs,
      why: wordsFor(parting, parted!, one.id),
    };
    say(opened, "opened");
    return { ...parting, told: opened };
  }
  if (sure < OVER * limitK) {
    say(told, "ended");
    return { ...parting, told: null };
  }
  if (told.urgency === "visit" || sure < VISIT * limitK) return parting;
  const why = wordsFor(parting, parted!, one.id);
  const raised: ToldFault = { ...told, urgency: "visit", why };
  say(raised, "raised");
  return { ...parting, told: raised };
}

function wordsFor({ days }: Parting, parted: Span, oneId: string): string {
  const [low, high] = [Math.abs(parted.low), Math.abs(parted.high)].sort((a, b) => a - b);
  const forDays = days.at(-1)! - days[0]!;
  return (
    `${oneId}, from which it parted by ${low!.toFixed(1)} to ${high!.toFixed(1)} K ` +
    `in ${forDays} days; either of the two may be the one that is off`
  );
}

/**
 * Compare a probe anew: it was checked, or corrected otherwise, so that its past means no longer
 * what they meant.
 */
export function forgetPartings(partings: readonly Parting[], probeId: string): readonly Parting[] {
  return partings.map((parting) =>
    parting.one === probeId || parting.other === probeId
      ? { ...parting, days: [], apartK: [] }
      : parting,
  );
}
