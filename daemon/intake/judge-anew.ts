import type { JudgeState } from "../../rules/judge.js";
import type { Deaf } from "../../rules/mute.js";
import { transplantHabit, withoutPartings } from "../../rules/transplant.js";
import { deedsToTell, type ToldDeed } from "../../rules/year/journal-view.js";
import type { Corrector } from "../../sensors/corrector.js";
import type { HeldCorrection } from "../../shared/check.js";
import type { Finding } from "../../shared/excursion.js";
import type { Reading } from "../../shared/reading.js";
import type { Site } from "../../shared/site.js";
import { DAY_MS } from "../../shared/time.js";
import type { Store } from "../store/store.js";
import { JudgeSeat } from "./judge-seat.js";

/** What a chamber is judged anew from. */
export type AnewPorts = Readonly<{
  site: Site;
  store: Pick<Store, "readings" | "journal" | "deaf">;
  chamberId: string;
  corrector: Corrector;
  /** All that the corrector applies, so that it is known when it changes. */
  held: readonly HeldCorrection[];
}>;

/** Readings after which others may have their turn; a few milliseconds of work. */
const TURN_READINGS = 2_000;
/** Enough of a past to know a fridge's habits by; our choice. */
const HABIT_MS = 7 * DAY_MS;
const END_OF_TIME_MS = 8.64e15;

/** A site of one chamber, with what lies outdoors. */
function partOf(site: Site, chamberId: string): Site {
  return {
    ...site,
    chambers: site.chambers.filter(({ id }) => id === chamberId),
    probes: site.probes.filter((p) => p.chamberId === chamberId || p.chamberId === null),
  };
}

/**
 * One chamber judged anew from the first stored reading on, as though the checks had been known
 * from the dates they hold from.
 *
 * Where a correction begins, the fridge's habits are learned anew from the week before as the
 * probe is corrected from then on: a step of the thermometer is no event in the fridge.
 */
export class JudgedAnew {
  readonly findings: Finding[] = [];
  readonly cocoons: Reading[] = [];
  readonly seat: JudgeSeat;
  readonly #ports: AnewPorts;
  readonly #part: Site;
  readonly #ids: ReadonlySet<string>;
  /** When what is added to a probe's temperature changes, oldest first. */
  readonly #changes: HeldCorrection[];
  readonly #deeds: ToldDeed[];
  /** When nobody listened, in the order in which that ended. */
  readonly #deaf: Deaf[];
  #heardMs = 0;

  constructor(ports: AnewPorts) {
    this.#ports = ports;
    this.#part = partOf(ports.site, ports.chamberId);
    this.#ids = new Set(this.#part.probes.map(({ id }) => id));
    this.#changes = ports.held
      .filter(({ probeId, quantity }) => this.#ids.has(probeId) && quantity === "temperature")
      .sort((a, b) => a.fromMs - b.fromMs);
    this.#deeds = deedsToTell(ports.store.journal.soFar().entries)
      .filter(({ withdrawn }) => !withdrawn)
      .sort((a, b) => a.atMs - b.atMs);
    this.#deaf = ports.store.deaf.all();
    this.seat = new JudgeSeat(this.#part, ports.corrector);
  }

  /**
   * Judge what is stored and was not judged yet.
   *
   * @param pause called every few milliseconds of work
   */
  async judge(pause: () => Promise<void>): Promise<void> {
    let count = 0;
    for (const reading of this.#rest()) {
      this.#hear(reading);
      if (++count % TURN_READINGS === 0) await pause();
    }
  }

  /** Judge in one go what came in since, up to an instant. */
  catchUp(nowMs: number): void {
    for (const reading of this.#rest()) this.#hear(reading);
    this.#passDeaf(nowMs);
    this.findings.push(...this.seat.tick(nowMs));
    this.seat.readJournal(this.#ports.store);
  }

  *#rest(): IterableIterator<Reading> {
    const { readings } = this.#ports.store;
    for (const reading of readings.allBetween(this.#heardMs, END_OF_TIME_MS))
      if (this.#ids.has(reading.probeId)) yield reading;
  }

  #hear(reading: Reading): void {
    const atMs = reading.takenAtMs;
    this.#heardMs = atMs;
    while (this.#changes.length > 0 && this.#changes[0]!.fromMs <= atMs)
      this.#change(this.#changes.shift()!, atMs);
    while (this.#deeds.length > 0 && this.#deeds[0]!.atMs <= atMs)
      this.seat.tend(this.#deeds.shift()!);
    this.#passDeaf(atMs);
    this.findings.push(...this.seat.hear(reading));
    this.cocoons.push(...this.seat.cocoons());
  }

  /** Nobody listened in the stretches that are over by then. */
  #passDeaf(atMs: number): void {
    while (this.#deaf.length > 0 && this.#deaf[0]!.toMs <= atMs)
      this.seat.wasDeaf(this.#deaf.shift()!);
  }

  /** A probe is corrected otherwise from here on. */
  #change(held: HeldCorrection, atMs: number): void {
    const { state } = this.seat;
    const health = withoutPartings(state.health, [held.probeId]);
    this.seat.goOnFrom({ ...state, health });
    if (movesHabits(held, this.#part))
      this.seat.goOnFrom(withFreshHabits(this.seat.state, this.#ports, atMs));
  }
}

/** Whether a correction changes by what degrees a chamber's habits are known. */
export function movesHabits(
  { probeId, quantity }: Pick<HeldCorrection, "probeId" | "quantity">,
  { probes }: Pick<Site, "probes">,
): boolean {
  const isAir = probes.some(({ id, place }) => id === probeId && place === "air");
  return isAir && quantity === "temperature";
}

/**
 * A judgement with the chamber's habits over the week up to its own present, as its probes are
 * corrected at an instant, which may be a little ahead. Where nothing was heard in that week, what
 * was known before is the best there is.
 */
export function withFreshHabits(state: JudgeState, ports: AnewPorts, atMs: number): JudgeState {
  const { site, store, chamberId, corrector } = ports;
  const part = partOf(site, chamberId);
  const ids = new Set(part.probes.map(({ id }) => id));
  const seat = new JudgeSeat(part, corrector.asOf(atMs));
  const { nowMs } = state;
  for (const reading of store.readings.allBetween(nowMs - HABIT_MS, nowMs + 1))
    if (ids.has(reading.probeId)) seat.hear(reading);
  if (seat.state.nowMs === 0) return state;
  seat.tick(nowMs);
  const probes = part.probes.filter((probe) => probe.chamberId === chamberId);
  return transplantHabit(
    state,
    seat.state,
    chamberId,
    probes.map(({ id }) => id),
  );
}
