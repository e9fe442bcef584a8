import {
  adoptJudge,
  beginJudge,
  type JudgeEvent,
  type JudgeState,
  stepJudge,
} from "../../rules/judge.js";
import type { Deaf } from "../../rules/mute.js";
import { recallJudge } from "../../rules/recall.js";
import { shiftJudge } from "../../rules/shifted.js";
import { deedsToTell, type ToldDeed } from "../../rules/year/journal-view.js";
import { type Corrector, openCorrector } from "../../sensors/corrector.js";
import type { Finding } from "../../shared/excursion.js";
import type { Reading } from "../../shared/reading.js";
import type { Site } from "../../shared/site.js";
import { DAY_MS, isSaneClock, MINUTE_MS } from "../../shared/time.js";
import type { JudgeMemory, Store } from "../store/store.js";
import { CocoonSeries } from "./cocoon-series.js";

/** How far back readings are judged again at a start, at most; our choice. */
const REFEED_MOST_MS = 2 * DAY_MS;
/** A sensor's own clock may run ten minutes ahead; what is further on is a clock that was wrong. */
const AHEAD_MOST_MS = 15 * MINUTE_MS;
/** The end of time as far as a date in JavaScript goes. */
const END_OF_TIME_MS = 8.64e15;

/**
 * Where the judge of the site sits while Drowse runs: its state in memory, always ahead of or
 * level with the store.
 *
 * A stored memory is taken up with all readings that were stored after it. Which those are is not
 * known, for readings come late and out of order, so the memory carries the instant before which
 * every probe's readings had been judged, and all from there on are judged again: what the judge
 * has seen it ignores.
 */
export class JudgeSeat {
  readonly #site: Site;
  #state: JudgeState;
  #judgedFromMs = Number.NEGATIVE_INFINITY;
  readonly #series = new CocoonSeries();
  readonly #newestMs = new Map<string, number>();
  /** The newest entry of the journal that the judge knows of. */
  #entryNo = 0;
  #corrector: Corrector;

  constructor(site: Site, corrector: Corrector = openCorrector([])) {
    this.#site = site;
    this.#corrector = corrector;
    this.#state = beginJudge(site);
  }

  get state(): JudgeState {
    return this.#state;
  }

  /** What readings mean from now on. */
  useCorrector(corrector: Corrector): void {
    this.#corrector = corrector;
  }

  /** Go on from a state that was made elsewhere of the same readings. */
  goOnFrom(state: JudgeState): void {
    this.#state = state;
  }

  /**
   * Take up where the last run stopped.
   *
   * @returns what the judge finds on the way; the store ignores what it knows already
   */
  takeUp(store: Pick<Store, "judge" | "readings" | "journal">, nowMs: number): Finding[] {
    const memory = store.judge.load();
    const state = memory === null ? null : recallJudge(memory.state);
    if (state !== null) {
      this.#state = adoptJudge(state, this.#site);
      this.#judgedFromMs = memory!.atMs;
    } else this.#judgedFromMs = nowMs - REFEED_MOST_MS;
    const aheadMs = isSaneClock(nowMs) ? this.#state.nowMs - nowMs : 0;
    const wasAhead = aheadMs > AHEAD_MOST_MS;
    if (wasAhead) this.shift(-aheadMs);
    this.readJournal(store);
    const findings: Finding[] = [];
    // What was dated by a clock that ran ahead would make all that is to come look late.
    const toMs = wasAhead ? nowMs : END_OF_TIME_MS;
    for (const reading of store.readings.allBetween(this.#judgedFromMs, toMs))
      findings.push(...this.hear(reading));
    return findings;
  }

  /** Go on after the clock was set: all that is remembered moves with it. */
  shift(byMs: number): void {
    this.#state = shiftJudge(this.#state, byMs);
    this.#judgedFromMs += byMs;
    this.#series.shift(byMs);
    for (const [id, atMs] of this.#newestMs) this.#newestMs.set(id, atMs + byMs);
  }

  /**
   * Tell the judge what the keeper did, if anything was written since the last time. Any process
   * may have written it, days late or to correct what was told; so all of it is told again, and
   * the judge passes over what it knows.
   */
  readJournal({ journal }: Pick<Store, "journal">): void {
    const newestNo = journal.newestNo();
    if (newestNo === this.#entryNo) return;
    for (const deed of deedsToTell(journal.soFar().entries)) this.tend(deed);
    this.#entryNo = newestNo;
  }

  /** Judge a reading, as the checks of its probe correct it. */
  hear(reading: Reading): readonly Finding[] {
    const newest = this.#newestMs.get(reading.probeId);
    if (newest === undefined || newest < reading.takenAtMs)
      this.#newestMs.set(reading.probeId, reading.takenAtMs);
    return this.#step({ kind: "reading", reading: this.#corrector.correct(reading) });
  }

  /** Tell the judge of something that the keeper did. */
  tend(deed: ToldDeed): void {
    this.#step({ kind: "tended", ...deed });
  }

  /** Tell the judge that nobody listened for a stretch that is over. */
  wasDeaf({ fromMs, toMs }: Deaf): void {
    this.#step({ kind: "deaf", fromMs, atMs: toMs });
  }

  /** Tell the judge the time. */
  tick(atMs: number): readonly Finding[] {
    return this.#step({ kind: "tick", atMs });
  }

  /** What the cocoons have felt since the last time, as readings of a series of its own. */
  cocoons(): Reading[] {
    return this.#series.next(this.#state.chambers);
  }

  /** A state to store beside the readings judged so far: its own, or one it may go on from. */
  remember(state = this.#state): JudgeMemory {
    const newestMs = this.#site.probes.map(
      ({ id }) => this.#newestMs.get(id) ?? this.#judgedFromMs,
    );
    const everMs = Math.max(...newestMs);
    const judgedMs = Math.max(Math.min(...newestMs), everMs - REFEED_MOST_MS);
    return { state: JSON.stringify(state), atMs: Number.isFinite(judgedMs) ? judgedMs : 0 };
  }

  #step(event: JudgeEvent): readonly Finding[] {
    const { state, findings } = stepJudge(this.#state, event, this.#site);
    this.#state = state;
    return findings;
  }
}
