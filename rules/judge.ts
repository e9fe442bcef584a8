import type { Deed } from "../shared/deed.js";
import type { Finding } from "../shared/excursion.js";
import type { Reading } from "../shared/reading.js";
import { isAmongCocoons, type Site } from "../shared/site.js";
import { stepChamber, type ToldInMoment } from "./chamber.js";
import { beginChamber, type ChamberState } from "./chamber-state.js";
import { adoptHealths, beginHealths, type Health, sieve } from "./health/sieve.js";
import type { HeardHumidity } from "./humidity-alone.js";
import type { Heard } from "./lead-air.js";
import { dueOf, firstEndOf, momentEndOf } from "./moment.js";
import {
  beginHearing,
  type Deaf,
  freshFor,
  type Hearing,
  hear,
  muteAtMs,
  passDeaf,
  usualIntervalMs,
} from "./mute.js";
import { probeIndex } from "./probe-index.js";
import { endSilences, nextSilenceMs, tellSilences } from "./silences.js";
import { noteDeed } from "./tended.js";
import { addDeaf } from "./unseen.js";

/**
 * What a judgement is told: a reading that arrived, that time has moved on, that nobody listened
 * for a stretch that is over now, or that the keeper did or saw something.
 *
 * A deed may be told late, and again: only its time counts, and it moves no clock. `damped` begins
 * the drying forecast anew and explains the humidity that follows it; `mould-seen` and `no-mould`
 * are kept beside the mould index; `aired` and `paper-changed` are noted; other deeds pass by. A
 * deed that the journal corrects is told again as `withdrawn`, and then not without it any more.
 */
export type JudgeEvent =
  | Readonly<{ kind: "reading"; reading: Reading }>
  | Readonly<{ kind: "tick"; atMs: number }>
  | Readonly<{ kind: "deaf"; fromMs: number; atMs: number }>
  | Readonly<{
      kind: "tended";
      chamberId: string;
      atMs: number;
      deed: Deed;
      withdrawn?: boolean;
    }>;

/** Counts up with each change of what is remembered; see `recallJudge`. */
export const JUDGE_VERSION = 13;

/** All that a judgement remembers; plain JSON, so that it can be stored and taken up again. */
export type JudgeState = Readonly<{
  version: typeof JUDGE_VERSION;
  /** The latest instant it knows of; never goes back. */
  nowMs: number;
  /** End of the first moment of which something waits; null while nothing does. */
  momentEndMs: number | null;
  gathered: readonly Reading[];
  /** One each, in the order of the site's probes and chambers. */
  hearings: readonly Hearing[];
  health: Health;
  chambers: readonly ChamberState[];
  /** No silence counts before this instant; null while none can. */
  nextMuteMs: number | null;
}>;

type Judged = Readonly<{ state: JudgeState; findings: readonly Finding[] }>;
const NOTHING: readonly Finding[] = [];

/** The state before the first event. */
export function beginJudge(site: Site): JudgeState {
  return {
    version: JUDGE_VERSION,
    nowMs: 0,
    momentEndMs: null,
    gathered: [],
    hearings: site.probes.map((p) => beginHearing(p.id)),
    health: beginHealths(site),
    chambers: site.chambers.map((c) => beginChamber(c.id)),
    nextMuteMs: null,
  };
}

/** Fit a stored state to a site whose probes or chambers have changed; what is gone is forgotten. */
export function adoptJudge(state: JudgeState, site: Site): JudgeState {
  const { hearings, chambers } = state;
  const byProbe = new Map(hearings.map((h) => [h.probeId, h]));
  const byChamber = new Map(chambers.map((c) => [c.chamberId, c]));
  const known = site.probes.map((p) => byProbe.get(p.id) ?? beginHearing(p.id));
  return {
    ...state,
    gathered: state.gathered.filter((r) => probeIndex(site).has(r.probeId)),
    hearings: known,
    health: adoptHealths(state.health, site),
    chambers: site.chambers.map((c) => byChamber.get(c.id) ?? beginChamber(c.id)),
    nextMuteMs: nextSilenceMs(known, site),
  };
}

/** Move the judgement of a whole site on by one event. Pure; never throws. */
export function stepJudge(state: JudgeState, event: JudgeEvent, site: Site): Judged {
  if (event.kind === "tick") return advance(state, event.atMs, site);
  if (event.kind === "tended") return { state: tend(state, event), findings: NOTHING };
  // It moves no clock: what comes next may belong to the moment that is being gathered.
  if (event.kind === "deaf")
    return {
      state: miss(state, { fromMs: event.fromMs, toMs: event.atMs }, site),
      findings: NOTHING,
    };
  const { reading } = event;
  const index = probeIndex(site).get(reading.probeId);
  // A late or repeated delivery must not undo what was already decided.
  if (index === undefined || reading.takenAtMs <= state.hearings[index]!.lastAtMs)
    return { state, findings: NOTHING };
  return take(advance(state, reading.takenAtMs, site), index, reading, site);
}

/** Note what the keeper did or saw; what it means is asked when the next moment is judged. */
function tend(state: JudgeState, event: JudgeEvent & { kind: "tended" }): JudgeState {
  const { chamberId, deed, atMs, withdrawn = false } = event;
  const index = state.chambers.findIndex((c) => c.chamberId === chamberId);
  const chamber = state.chambers[index];
  if (chamber === undefined) return state;
  const tended = noteDeed(chamber.tended, deed, atMs, withdrawn);
  if (tended === chamber.tended) return state;
  return { ...state, chambers: state.chambers.with(index, { ...chamber, tended }) };
}

/** Note that nobody listened: no probe was silent then, and nobody saw the cocoons. */
function miss(state: JudgeState, deaf: Deaf, site: Site): JudgeState {
  const hearings = state.hearings.map((hearing) => passDeaf(hearing, deaf));
  const chambers = state.chambers.map((chamber) => {
    const unseen = addDeaf(chamber.unseen, deaf, chamber.exposure?.atMs ?? 0);
    return unseen === chamber.unseen ? chamber : { ...chamber, unseen };
  });
  return { ...state, hearings, chambers, nextMuteMs: nextSilenceMs(hearings, site) };
}

/** Gather one reading and note that its probe spoke. */
function take({ state, findings }: Judged, index: number, reading: Reading, site: Site): Judged {
  const { nowMs, health, chambers, nextMuteMs } = state;
  const hearing = hear(state.hearings[index]!, reading.takenAtMs, nowMs);
  // A silence that was told is ended, and looked beyond, when the moment is judged.
  const dueMs = hearing.mute === null ? muteAtMs(hearing, site.probes[index]!) : null;
  const next: JudgeState = {
    version: JUDGE_VERSION,
    nowMs,
    momentEndMs: sooner(state.momentEndMs, momentEndOf(reading, nowMs, chambers, site)),
    gathered: state.gathered.concat(reading),
    hearings: state.hearings.with(index, hearing),
    health,
    chambers,
    nextMuteMs: sooner(nextMuteMs, dueMs),
  };
  return { state: next, findings };
}

const sooner = (a: number | null, b: number | null): number | null =>
  a === null || b === null ? (a ?? b) : Math.min(a, b);

const join = (a: readonly Finding[], b: readonly Finding[]): readonly Finding[] =>
  a.length === 0 ? b : b.length === 0 ? a : [...a, ...b];

/**
 * Let time pass: each gathered moment is judged when it ends, the earliest first, a silence when it
 * counts. Each turn judges a reading at least.
 */
function advance(from: JudgeState, toMs: number, site: Site): Judged {
  // Said apart, since it is so for nearly every reading.
  if (from.momentEndMs === null || toMs < from.momentEndMs) return passSilence(from, toMs, site);
  let state = from;
  let findings = NOTHING;
  while (state.momentEndMs !== null && state.momentEndMs <= toMs) {
    const endMs = state.momentEndMs;
    // What counts before the moment's end is told before it, however far time goes at once.
    const before = passSilence(state, endMs, site);
    const after = judgeMoment(before.state, endMs, site);
    findings = join(findings, join(before.findings, after.findings));
    state = after.state;
  }
  const later = passSilence(state, toMs, site);
  return { state: later.state, findings: join(findings, later.findings) };
}

/** Let time pass in which no moment ends. */
function passSilence(state: JudgeState, toMs: number, site: Site): Judged {
  if (toMs <= state.nowMs) return { state, findings: NOTHING };
  const { momentEndMs, gathered, chambers, nextMuteMs: muteMs } = state;
  if (muteMs === null || toMs < muteMs) {
    const next: JudgeState = {
      version: JUDGE_VERSION,
      nowMs: toMs,
      momentEndMs,
      gathered,
      hearings: state.hearings,
      health: state.health,
      chambers,
      nextMuteMs: muteMs,
    };
    return { state: next, findings: NOTHING };
  }
  const { hearings, findings } = tellSilences(state.hearings, toMs, site, state.chambers);
  const nextMuteMs = nextSilenceMs(hearings, site);
  return { state: { ...state, nowMs: toMs, hearings, nextMuteMs }, findings };
}

/**
 * Judge what was gathered of a moment: what cannot have been measured is taken out, then each
 * chamber is judged by its own probes.
 */
function judgeMoment(state: JudgeState, atMs: number, site: Site): Judged {
  const { hearings: before, nowMs } = state;
  const { due, left } = dueOf(state.gathered, atMs, state.chambers, site);
  const inOrder = due.slice().sort(byTimeThenProbe);
  const sieved = sieve(state.health, inOrder, before, atMs, site, state.chambers);
  const { health, admitted } = sieved;
  let found = sieved.findings;
  const chambers = state.chambers.map((chamberState, i) => {
    const told = toldIn(site.chambers[i]!.id, admitted, before, site);
    if (told.heard.length + told.humidity.length === 0) return chamberState;
    const step = stepChamber(chamberState, told, atMs, site.chambers[i]!, site.timezone);
    found = join(found, step.findings);
    return step.state;
  });
  // Told first, and judged last: what a silence may have held is known once its chamber was judged.
  const { hearings, findings: ended } = endSilences(before, due, atMs, nowMs, site, chambers);
  const nextMuteMs = ended.length === 0 ? state.nextMuteMs : nextSilenceMs(hearings, site);
  const next = {
    ...state,
    hearings,
    health,
    chambers,
    gathered: left,
    momentEndMs: left.length === 0 ? null : firstEndOf(left, nowMs, chambers, site),
    nextMuteMs,
  };
  return { state: next, findings: join(ended, found) };
}

const byTimeThenProbe = (a: Reading, b: Reading): number =>
  a.takenAtMs - b.takenAtMs || (a.probeId < b.probeId ? -1 : 1);

function toldIn(
  chamberId: string,
  gathered: readonly Reading[],
  hearings: readonly Hearing[],
  site: Site,
): ToldInMoment {
  const heard: Heard[] = [];
  let humidity = NO_HUMIDITY;
  for (const { probeId, takenAtMs, temperatureC, humidityPct } of gathered) {
    const index = probeIndex(site).get(probeId)!;
    const probe = site.probes[index]!;
    const { place } = probe;
    if (probe.chamberId !== chamberId || place === "outdoors") continue;
    const freshMs = freshFor(usualIntervalMs(hearings[index]!, probe));
    if (temperatureC !== null)
      heard.push({ probeId, place, atMs: takenAtMs, temperatureC, humidityPct, freshMs });
    else if (humidityPct !== null && isAmongCocoons(place))
      humidity = [...humidity, { probeId, place, atMs: takenAtMs, humidityPct, freshMs }];
  }
  return { heard, humidity };
}

const NO_HUMIDITY: readonly HeardHumidity[] = [];
