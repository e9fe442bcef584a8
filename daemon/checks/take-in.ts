import type { JudgeState } from "../../rules/judge.js";
import { seasonOf } from "../../rules/season.js";
import { transplantChamber, withoutPartings } from "../../rules/transplant.js";
import { openCorrector } from "../../sensors/corrector.js";
import type { Finding } from "../../shared/excursion.js";
import { cocoonSeriesId, type Site } from "../../shared/site.js";
import { MINUTE_MS } from "../../shared/time.js";
import { type AnewPorts, JudgedAnew, movesHabits, withFreshHabits } from "../intake/judge-anew.js";
import type { JudgeSeat } from "../intake/judge-seat.js";
import type { LetterContext } from "../letters/letter-context.js";
import type { NewLetter, Revision, Store } from "../store/store.js";
import { type CheckEntry, findCheck, heldCorrections, type Shift, shiftsOf } from "./record.js";
import { type ChamberRevision, composeRevision } from "./revision-letter.js";
import { goesOn, planRevision, toldOf } from "./revision-plan.js";

/** What checks are taken in with. */
export type TakeInPorts = Readonly<{
  site: Site;
  store: Store;
  keepers: readonly string[];
  nowMs(): number;
  /** The judge's seat with all judged and stored that came in; null where that can't be said. */
  settledSeat(): JudgeSeat | null;
  context(earlier: readonly NewLetter[]): LetterContext;
  compose(finding: Finding, earlier: readonly NewLetter[]): NewLetter | null;
  /** Called every few milliseconds of work, so that readings are taken in meanwhile. */
  pause(): Promise<void>;
}>;

/** A correction that began so shortly ago changes nothing of what was judged; our choice. */
const JUST_NOW_MS = 10 * MINUTE_MS;

type ChamberShift = Readonly<{ chamberId: string; fromMs: number }>;

/** What waits to be taken in, read once. */
type Waiting = Readonly<{
  entryNo: number;
  entries: readonly CheckEntry[];
  fresh: readonly CheckEntry[];
  shifts: readonly Shift[];
  anewPorts(chamberId: string): AnewPorts;
}>;

/** A chamber judged anew as far as it is stored. */
type Judged = Readonly<{ shift: ChamberShift; anew: JudgedAnew; ids: readonly string[] }>;

/**
 * Take in the entries that wait: correct from now on, make hours and days anew, and judge anew the
 * chambers of probes that were corrected back to a date.
 *
 * @returns whether all was taken in; false where it could not be done now and is to be tried later
 */
export async function takeInChecks(ports: TakeInPorts): Promise<boolean> {
  const { store, site } = ports;
  const waiting = readWaiting(ports);
  const chambers = chamberShifts(waiting.shifts, site);
  const isBackdated = ({ fromMs }: ChamberShift) => fromMs < ports.nowMs() - JUST_NOW_MS;
  const judged: Judged[] = [];
  for (const shift of chambers.filter(isBackdated)) {
    const anew = new JudgedAnew(waiting.anewPorts(shift.chamberId));
    await anew.judge(ports.pause);
    judged.push({ shift, anew, ids: probesIn(shift.chamberId, site) });
  }
  // Nothing else may come between: from here on it is one piece of work.
  const seat = ports.settledSeat();
  if (seat === null || store.checks.newestNo() !== waiting.entryNo) return false;
  const was = seat.state;
  let is = was;
  for (const { shift, anew, ids } of judged) {
    anew.catchUp(was.nowMs);
    is = transplantChamber(is, anew.seat.state, shift.chamberId, ids);
  }
  for (const { chamberId } of chamberShifts(waiting.shifts.filter(movesHabitsIn(site)), site))
    if (!judged.some(({ shift }) => shift.chamberId === chamberId))
      is = withFreshHabits(is, waiting.anewPorts(chamberId), Math.max(ports.nowMs(), was.nowMs));

  const others = waiting.shifts.filter(
    ({ probeId }) => !judged.some(({ ids }) => ids.includes(probeId)),
  );
  is = {
    ...is,
    health: withoutPartings(
      is.health,
      others.map(({ probeId }) => probeId),
    ),
  };

  store.revise(revisionOf(waiting, judged, { was, is }, seat, ports), ports.keepers);
  seat.useCorrector(store.checks.corrector());
  seat.goOnFrom(is);
  return true;
}

function readWaiting({ site, store }: TakeInPorts): Waiting {
  const entries = store.checks.entries();
  const fresh = entries.slice(store.checks.takenEntries().length);
  const held = heldCorrections(entries);
  const corrector = openCorrector(held, store.checks.absences());
  return {
    entryNo: store.checks.newestNo(),
    entries,
    fresh,
    shifts: shiftsOf(entries, fresh),
    anewPorts: (chamberId) => ({ site, store, chamberId, corrector, held }),
  };
}

function revisionOf(
  { entryNo, entries, fresh, shifts }: Waiting,
  judged: readonly Judged[],
  { was, is }: Readonly<{ was: JudgeState; is: JudgeState }>,
  seat: JudgeSeat,
  ports: TakeInPorts,
): Revision {
  const revisions = judged.map(({ shift, anew }): ChamberRevision => {
    const figures = (state: JudgeState) =>
      seasonOf(state, ports.site).find(({ chamberId }) => chamberId === shift.chamberId)!;
    const plan = planFor(shift, anew.findings, ports.store);
    const because = reasonsFor(shift.chamberId, entries, fresh, ports.site);
    return { ...shift, entries: because, plan, was: figures(was), is: figures(is) };
  });
  return {
    entryNo,
    shifts,
    series: judged.map(({ shift: { chamberId, fromMs }, anew }) => ({
      probeId: cocoonSeriesId(chamberId),
      fromMs,
      values: anew.cocoons.filter(({ takenAtMs }) => takenAtMs >= fromMs),
    })),
    before: revisions.flatMap(({ plan }) => plan.before.map(({ id }) => id)),
    after: revisions.flatMap(({ plan }) => plan.after.flatMap(({ findings }) => findings)),
    judge: seat.remember(is),
    letters: revisions.flatMap((one) => lettersOf(one, entryNo, ports)),
  };
}

const movesHabitsIn =
  (site: Site) =>
  (shift: Shift): boolean =>
    movesHabits(shift, site);

const probesIn = (chamberId: string, site: Site): string[] =>
  site.probes.filter((probe) => probe.chamberId === chamberId).map(({ id }) => id);

function chamberShifts(shifts: readonly Shift[], site: Site): ChamberShift[] {
  const earliest = new Map<string, number>();
  for (const { probeId, fromMs } of shifts) {
    const chamberId = site.probes.find(({ id }) => id === probeId)?.chamberId ?? null;
    if (chamberId === null) continue;
    earliest.set(chamberId, Math.min(fromMs, earliest.get(chamberId) ?? fromMs));
  }
  return [...earliest].map(([chamberId, fromMs]) => ({ chamberId, fromMs }));
}

function planFor({ chamberId, fromMs }: ChamberShift, findings: readonly Finding[], store: Store) {
  const { excursions } = store;
  const told = (id: string) => toldOf({ id }, excursions.history(id));
  const overlapping = excursions.between(fromMs, Number.MAX_SAFE_INTEGER);
  return planRevision(
    chamberId,
    fromMs,
    overlapping.map(({ id }) => told(id)),
    (id) => (excursions.get(id) === null ? null : told(id)),
    findings,
  );
}

function reasonsFor(
  chamberId: string,
  entries: readonly CheckEntry[],
  fresh: readonly CheckEntry[],
  site: Site,
): ChamberRevision["entries"] {
  const ids = probesIn(chamberId, site);
  return fresh.flatMap((entry) => {
    const check = findCheck(entries, entry.kind === "check" ? entry.id : entry.checkId);
    return check !== null && ids.includes(check.probeId) ? [{ entry, check }] : [];
  });
}

/** What changed; and for what goes on now and nobody was told of, a letter of its own. */
function lettersOf(revision: ChamberRevision, entryNo: number, ports: TakeInPorts): NewLetter[] {
  const summary = composeRevision(revision, entryNo, ports.nowMs(), ports.context([]));
  const open = revision.plan.after.filter(goesOn).flatMap(({ id, findings }) => {
    if (ports.store.letters.ofExcursion(id).length > 0) return [];
    return ports.compose({ ...findings.at(-1)!, change: "opened" }, []) ?? [];
  });
  return [summary, ...open];
}
