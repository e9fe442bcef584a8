import { endGone } from "../../rules/gone.js";
import type { Corrector } from "../../sensors/corrector.js";
import type { Finding } from "../../shared/excursion.js";
import type { Reading } from "../../shared/reading.js";
import type { Site } from "../../shared/site.js";
import { isSaneClock, MINUTE_MS } from "../../shared/time.js";
import type { JudgeMemory, NewLetter, Store } from "../store/store.js";
import { BacklogWatch } from "./backlog-watch.js";
import { JudgeSeat } from "./judge-seat.js";
import type { PendingGroup } from "./pending-group.js";

/** Our choice: some 10 MB; a night of six probes each 5 s fits. */
const UNJUDGED_MOST = 50_000;

/** Shorter ones make no silence, and a way that opens and shuts has thousands; our choice. */
const DEAF_LEAST_MS = MINUTE_MS;

export type JudgingPorts = Readonly<{
  site: Site;
  store: Store;
  /** The letter a finding calls for, null for none. */
  compose(finding: Finding, earlier: readonly NewLetter[]): NewLetter | null;
}>;

/**
 * Puts readings and ticks before the judge, in a fit order, and what it finds into the pending
 * group, with the letters. All its answers say whether a keeper must hear of it now.
 */
export class Judging {
  readonly #ports: JudgingPorts;
  readonly #pending: PendingGroup;
  readonly #seat: JudgeSeat;
  readonly #backlog: BacklogWatch;
  /** Pending or stored, but not judged yet; a start judges again what a crash leaves here. */
  #unjudged: Reading[] = [];
  #listens = false;

  /** @param nowMs the start, on the clock that never jumps, like all `monotonicMs` here */
  constructor(ports: JudgingPorts, pending: PendingGroup, monotonicMs: number) {
    this.#ports = ports;
    this.#pending = pending;
    this.#seat = new JudgeSeat(ports.site);
    this.#backlog = new BacklogWatch(monotonicMs);
  }

  /** Take up where the last run stopped. */
  takeUp(nowMs: number): boolean {
    // For the digest alone: who took them out of the config need not be told by letter.
    const gone = endGone(this.#ports.store.excursions.open(), this.#ports.site, nowMs);
    this.#pending.findings.push(...gone);
    this.#seat.useCorrector(this.#ports.store.checks.corrector());
    const urgent = this.#enter(this.#seat.takeUp(this.#ports.store, nowMs));
    if (isSaneClock(nowMs)) this.listen(nowMs);
    return urgent;
  }

  /**
   * From now on senders are listened to; to be called once the clock is known, before anything is
   * heard. A probe that spoke while Drowse was not there was not silent.
   */
  listen(nowMs: number): void {
    if (this.#listens) return;
    this.#listens = true;
    this.#wasDeaf(this.#seat.state.nowMs, nowMs);
  }

  /** The way to the senders has opened, after having been shut for so long. */
  connected(nowMs: number, monotonicMs: number, shutForMs: number): void {
    this.#backlog.opened(monotonicMs);
    if (this.#listens && shutForMs > 0) this.#wasDeaf(nowMs - shutForMs, nowMs);
  }

  /**
   * Judge readings, or put them by while senders pour in what they kept back.
   *
   * @param ageMs how old the oldest was at its arrival
   */
  hear(readings: readonly Reading[], ageMs: number, monotonicMs: number): boolean {
    this.#backlog.saw(ageMs, monotonicMs);
    if (this.#backlog.isPouring(monotonicMs) && this.#unjudged.length < UNJUDGED_MOST) {
      this.#unjudged.push(...readings);
      return false;
    }
    let urgent = this.#unjudged.length > 0 && this.judgeBacklog();
    for (const reading of readings) urgent = this.#judge(reading) || urgent;
    return urgent;
  }

  /** The clock was set: what is remembered moves with it, once all before it is judged. */
  clockWasSet(byMs: number): boolean {
    const urgent = this.judgeBacklog();
    this.#seat.shift(byMs);
    return urgent;
  }

  /** The clock went ahead of sensors that know the time themselves: none was silent so long. */
  clockRanOff(nowMs: number, byMs: number): void {
    this.#wasDeaf(nowMs - byMs, nowMs);
  }

  /** Tell the judge the time, unless senders pour in what they kept back. */
  tick(nowMs: number, monotonicMs: number): boolean {
    if (this.#backlog.isPouring(monotonicMs)) return false;
    this.#readJournal();
    const urgent = this.judgeBacklog();
    return this.#enter(this.#seat.tick(nowMs)) || urgent;
  }

  /** Judge what was put by, in order of time. */
  judgeBacklog(): boolean {
    const inOrder = this.#unjudged.sort((a, b) => a.takenAtMs - b.takenAtMs);
    this.#unjudged = [];
    let urgent = false;
    for (const reading of inOrder) urgent = this.#judge(reading) || urgent;
    return urgent;
  }

  /** The judge's seat with all judged that came in; null while senders pour in what they kept. */
  settled(monotonicMs: number): JudgeSeat | null {
    if (this.#backlog.isPouring(monotonicMs)) return null;
    this.judgeBacklog();
    return this.#seat;
  }

  /** What readings mean from now on. */
  useCorrector(corrector: Corrector): void {
    this.#seat.useCorrector(corrector);
  }

  /** What a later start needs to go on from here. */
  remember(): JudgeMemory {
    return this.#seat.remember();
  }

  #wasDeaf(fromMs: number, toMs: number): void {
    const deaf = { fromMs, toMs };
    this.#seat.wasDeaf(deaf);
    // Before the first reading there was nothing to hear.
    if (fromMs > 0 && toMs - fromMs >= DEAF_LEAST_MS) this.#pending.deaf.push(deaf);
  }

  /** A journal that can't be read now is read at a later tick; judging must not wait for it. */
  #readJournal(): void {
    try {
      this.#seat.readJournal(this.#ports.store);
    } catch {}
  }

  #judge(reading: Reading): boolean {
    const findings = this.#seat.hear(reading);
    for (const cocoons of this.#seat.cocoons()) this.#pending.readings.push(cocoons);
    return findings.length > 0 && this.#enter(findings);
  }

  #enter(findings: readonly Finding[]): boolean {
    let urgent = false;
    for (const finding of findings) {
      const { excursionId } = finding;
      const stored = this.#ports.store.letters.ofExcursion(excursionId);
      const earlier = [...stored, ...this.#pending.lettersOf(excursionId)];
      const letter = this.#ports.compose(finding, earlier);
      this.#pending.findings.push(finding);
      if (letter !== null) this.#pending.letters.push(letter);
      urgent ||= letter !== null || finding.urgency !== "note";
    }
    return urgent;
  }
}
