import type { Corrector } from "../../sensors/corrector.js";
import { type Arrival, type Decoded, type Decoder, openDecoder } from "../../sensors/decode.js";
import type { RejectReason } from "../../sensors/reject-reason.js";
import type { ProbeSource } from "../../sensors/source.js";
import type { Reading } from "../../shared/reading.js";
import { isSaneClock, MINUTE_MS } from "../../shared/time.js";
import type { Clock } from "../clock.js";
import { arrivalOf, type Log } from "../mqtt/arrival-desk.js";
import type { Oversize } from "../mqtt/packet-sieve.js";
import type { NewLetter } from "../store/store.js";
import { BatteryNotes } from "./battery-notes.js";
import { ClockWatch } from "./clock-watch.js";
import { type CommitLoop, openCommitLoop, type Stranded } from "./commit-loop.js";
import { HeardTally } from "./heard-tally.js";
import type { JudgeSeat } from "./judge-seat.js";
import { Judging, type JudgingPorts } from "./judging.js";
import { PendingGroup } from "./pending-group.js";
import { RateBound } from "./rate-bound.js";
import { type Untimed, UntimedHold } from "./untimed-hold.js";

/** What the intake works on, and whom it tells. */
export type IntakePorts = JudgingPorts &
  Readonly<{
    sources: readonly ProbeSource[];
    keepers: readonly string[];
    clock: Clock;
    log: Log;
    /** A commit goes at once when so many readings wait, or the oldest has waited so long. */
    groupCount: number;
    groupMs: number;
    /** So many readings were committed together. */
    onGroup(readings: number): void;
    /** Letters were queued. */
    onLetters(): void;
    /** Messages were let go unacknowledged and can be taken now: make senders deliver again. */
    onRoom(): void;
    /** SQLite found the store damaged. */
    onDamaged(error: unknown): void;
    /** The wall clock was set by so much, ms. */
    onClockSet(byMs: number): void;
    /** Letters wait for a store that can't be written; `onStored` when that is over. */
    onStranded(letters: readonly NewLetter[], stranded: Stranded): void;
    onStored(): void;
  }>;

type ReadingDecoded = Extract<Decoded, { kind: "reading" }>;
type BatteryDecoded = Extract<Decoded, { kind: "battery" }>;

const NO_BYTES = new Uint8Array(0);

/**
 * The way of a message from a broker into the store: decode, judge at once in memory, commit in
 * groups, acknowledge only then.
 *
 * Never throws for what a sender does. A store that fails delays acknowledgements, not judging.
 */
export class Intake {
  readonly #ports: IntakePorts;
  readonly #decoder: Decoder;
  readonly #pending = new PendingGroup();
  readonly #tally = new HeardTally();
  readonly #untimed = new UntimedHold();
  readonly #batteries = new BatteryNotes();
  readonly #bound: RateBound;
  readonly #judging: Judging;
  readonly #loop: CommitLoop;
  readonly #clockWatch: ClockWatch;
  #clockDoubted = false;
  /** Since when there is no way to the senders, on the clock that never jumps; null while there is. */
  #shutSinceMs: number | null = null;
  /** Whether a sensor said of late by its own clock when it measured. */
  #hasOwnTimes = false;

  /** Takes up where the last run stopped. */
  constructor(ports: IntakePorts) {
    this.#ports = ports;
    this.#decoder = openDecoder(ports.sources);
    this.#bound = new RateBound(ports.site.probes);
    this.#clockWatch = new ClockWatch(ports.clock);
    this.#judging = new Judging(ports, this.#pending, ports.clock.monotonicMs());
    const remember = () => this.#judging.remember();
    this.#loop = openCommitLoop({ ...ports, pending: this.#pending, tally: this.#tally, remember });
    if (this.#judging.takeUp(ports.clock.nowMs())) this.#loop.commitNow();
  }

  /** What to subscribe to. */
  get topicFilters(): readonly string[] {
    return this.#decoder.topicFilters;
  }

  /** When this last did what it is for, on the clock that never jumps, ms. */
  get lastTurnMs(): number {
    return this.#loop.lastTurnMs();
  }

  /** The way to the senders is shut. */
  cutOff(): void {
    this.#shutSinceMs ??= this.#ports.clock.monotonicMs();
  }

  /** The way to the senders opened: what they kept back may pour in. */
  connected(): void {
    const { clock } = this.#ports;
    const monotonicMs = clock.monotonicMs();
    const shutForMs = Math.round(monotonicMs - (this.#shutSinceMs ?? monotonicMs));
    this.#shutSinceMs = null;
    this.#judging.connected(clock.nowMs(), monotonicMs, shutForMs);
  }

  /**
   * Take a message in. `acknowledge` is called once: after the commit that holds its readings, or
   * at once where it has none; never where there was no room for it.
   */
  take(arrival: Arrival, acknowledge: () => void): void {
    if (this.#pending.isFull) {
      this.#loop.refuseForWantOfRoom();
      return;
    }
    const monotonicMs = this.#ports.clock.monotonicMs();
    if (arrival.clockSane) {
      this.#judging.listen(arrival.arrivedAtMs);
      this.#dateWaiting(arrival.arrivedAtMs);
    }
    this.#lookAtClock(arrival.arrivedAtMs, monotonicMs);
    const { readings, undated } = this.#sort(arrival, monotonicMs);
    const last = undated.pop();
    for (const one of undated) this.#untimed.hold(one);
    if (last !== undefined) this.#untimed.hold({ ...last, acknowledge });
    const after = last === undefined ? acknowledge : null;
    if (readings.length > 0) this.#enter(readings, arrival, monotonicMs, after);
    else {
      after?.();
      this.#tellNews();
    }
  }

  /** Count a message that was too large to be let in. */
  refuse(packet: Oversize): void {
    const arrival = arrivalOf(this.#ports.clock, packet.topic ?? "", NO_BYTES, false);
    const probeId = this.#decoder.claims(arrival.topic)[0]?.probeId ?? null;
    const detail = `a message of ${packet.bytes} bytes, of which 65536 would be read at most`;
    this.#reject(arrival, probeId, "too-large", detail);
    this.#tellNews();
  }

  /** Count a message on a topic that its sender may not use. */
  forbid(topic: string, user: string | null): void {
    const arrival = arrivalOf(this.#ports.clock, topic, NO_BYTES, false);
    const detail = `user ${user ?? "without a name"} has no right to publish on this topic`;
    this.#reject(arrival, null, "not-allowed", detail);
    this.#tellNews();
  }

  /** To be called every few seconds: dates what waits for a date, tells the judge the time. */
  tick(): void {
    const { clock, log } = this.#ports;
    const nowMs = clock.nowMs();
    this.#loop.turn();
    const isSane = isSaneClock(nowMs);
    if (!isSane && !this.#clockDoubted)
      log.warn({ nowMs }, "the clock is not set; readings without their own time wait for it");
    this.#clockDoubted = !isSane;
    const monotonicMs = clock.monotonicMs();
    this.#lookAtClock(nowMs, monotonicMs);
    if (!isSane || this.#pending.isFull) return;
    this.#judging.listen(nowMs);
    this.#dateWaiting(nowMs);
    const wasEmpty = this.#pending.isEmpty;
    const urgent = this.#judging.tick(nowMs, monotonicMs);
    if (this.#pending.isEmpty) return;
    if (wasEmpty) this.#pending.began(monotonicMs);
    this.#settle(urgent);
  }

  /** What checks say that readings mean from now on. */
  useCorrector(corrector: Corrector): void {
    this.#judging.useCorrector(corrector);
  }

  /** The judge's seat with all judged and stored that came in; null where that can't be said. */
  settledSeat(): JudgeSeat | null {
    const seat = this.#judging.settled(this.#ports.clock.monotonicMs());
    if (seat !== null) this.#loop.commitNow();
    return this.#pending.isEmpty ? seat : null;
  }

  /** Commit what is pending now; what can't be committed stays. */
  flush(): void {
    this.#loop.commitNow();
  }

  /** Commit for the last time, judged to the end. */
  close(): void {
    this.#judging.judgeBacklog();
    this.#loop.close();
  }

  /** Decode a message and sort what is in it. */
  #sort(arrival: Arrival, monotonicMs: number): { readings: Reading[]; undated: Untimed[] } {
    const readings: Reading[] = [];
    const undated: Untimed[] = [];
    for (const decoded of this.#decoder.decode(arrival)) {
      if (decoded.kind === "rejected")
        this.#reject(arrival, decoded.probeId, decoded.reason, decoded.detail);
      else if (decoded.kind === "battery") this.#noteBattery(decoded, arrival);
      else if (decoded.kind === "untimed")
        undated.push({ ...decoded, monotonicMs: monotonicMs - decoded.ageMs, acknowledge: null });
      else if (this.#admits(arrival, decoded)) readings.push(decoded.reading);
    }
    return { readings, undated };
  }

  /** It rides with the next commit; nobody waits for it. */
  #noteBattery({ probeId, value, unit, low }: BatteryDecoded, arrival: Arrival): void {
    if (!arrival.clockSane) return;
    const fact = this.#batteries.note(probeId, { value, unit, low }, arrival.arrivedAtMs);
    if (fact !== null) this.#pending.facts[fact[0]] = fact[1];
  }

  #admits(arrival: Arrival, { reading: { probeId, takenAtMs } }: ReadingDecoded): boolean {
    if (this.#bound.admits(probeId, takenAtMs)) {
      const what = { probeId, outcome: "reading", detail: null } as const;
      this.#tally.note(arrival.topic, arrival.payload, arrival.arrivedAtMs, what);
      return true;
    }
    this.#reject(arrival, probeId, "too-often", "the probe speaks far oftener than its interval");
    return false;
  }

  #reject(arrival: Arrival, probeId: string | null, reason: RejectReason, detail: string): void {
    const { topic, payload, arrivedAtMs } = arrival;
    const what = { probeId, outcome: reason, detail };
    if (this.#tally.note(topic, payload, arrivedAtMs, what))
      this.#ports.log.warn({ topic, probe: probeId, reason }, `not a reading: ${detail}`);
  }

  #enter(
    readings: readonly Reading[],
    { arrivedAtMs, clockSane }: Pick<Arrival, "arrivedAtMs" | "clockSane">,
    monotonicMs: number,
    acknowledge: (() => void) | null,
  ): void {
    this.#pending.add(readings, monotonicMs);
    this.#hasOwnTimes ||= readings[0]!.takenAtMs !== arrivedAtMs;
    const ageMs = clockSane ? arrivedAtMs - readings[0]!.takenAtMs : 0;
    const urgent = this.#judging.hear(readings, ageMs, monotonicMs);
    if (acknowledge !== null) this.#pending.acknowledgements.push(acknowledge);
    this.#settle(urgent);
  }

  /** Date what came while the clock was not set; before anything newer reaches the judge. */
  #dateWaiting(nowMs: number): void {
    const { held, dropped } = this.#untimed.count;
    if (held === 0) return;
    const { clock, log, onRoom } = this.#ports;
    log.info({ held, dropped }, "the clock is set; dating the readings that waited for it");
    const monotonicMs = clock.monotonicMs();
    const stamped = this.#untimed.stamp(nowMs, monotonicMs);
    const readings = stamped
      .map(({ reading }) => reading)
      .filter(({ probeId, takenAtMs }) => this.#bound.admits(probeId, takenAtMs))
      .sort((a, b) => a.takenAtMs - b.takenAtMs);
    for (const { acknowledge } of stamped)
      if (acknowledge !== null) this.#pending.acknowledgements.push(acknowledge);
    this.#pending.add(readings, monotonicMs);
    this.#judging.hear(readings, 0, monotonicMs);
    this.#loop.commitNow();
    if (dropped > 0) onRoom();
  }

  #settle(urgent: boolean): void {
    if (urgent) this.#loop.commitNow();
    else this.#loop.schedule();
  }

  /**
   * Set back, a clock would leave the judge blind until it had caught up; set ahead, all probes
   * would seem to have been silent. Ahead of sensors that know the time themselves nothing may
   * move: their readings would look late.
   */
  #lookAtClock(nowMs: number, monotonicMs: number): void {
    const byMs = this.#clockWatch.jumpMs(nowMs, monotonicMs);
    if (byMs === 0) return;
    const minutes = Math.round(byMs / MINUTE_MS);
    this.#ports.log.warn(
      { minutes },
      "the clock was set; what came before is dated as it was then",
    );
    this.#ports.onClockSet(byMs);
    if (byMs < 0 || !this.#hasOwnTimes) this.#judging.clockWasSet(byMs);
    else this.#judging.clockRanOff(nowMs, byMs);
  }

  #tellNews(): void {
    if (this.#tally.hasNews) this.#loop.schedule();
  }
}
