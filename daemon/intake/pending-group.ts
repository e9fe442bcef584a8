import type { Deaf } from "../../rules/mute.js";
import type { Finding } from "../../shared/excursion.js";
import type { Reading } from "../../shared/reading.js";
import type { NewLetter } from "../store/store.js";

/** Our choice: some 10 MB; at 6 probes each 10 s a day of a store that refuses to be written. */
const READINGS_MOST = 50_000;
const FINDINGS_MOST = 5_000;

/**
 * What is judged but not yet stored. It survives a commit that failed.
 *
 * Bound: 50,000 readings and 5,000 findings; beyond that nothing is taken, and the sender, who
 * has no acknowledgement, still has it.
 */
export class PendingGroup {
  readings: Reading[] = [];
  findings: Finding[] = [];
  letters: NewLetter[] = [];
  /** Facts of the board that ride along. */
  facts: Record<string, string> = {};
  /** Stretches in which nobody listened; they ride along too. */
  deaf: Deaf[] = [];
  acknowledgements: Array<() => void> = [];
  oldestAtMs = 0;
  newestAtMs = 0;

  get isEmpty(): boolean {
    return (
      this.readings.length === 0 && this.findings.length === 0 && this.acknowledgements.length === 0
    );
  }

  get isFull(): boolean {
    return this.readings.length >= READINGS_MOST || this.findings.length >= FINDINGS_MOST;
  }

  /** Letters of one excursion that no keeper has been promised yet, oldest first. */
  lettersOf(excursionId: string): NewLetter[] {
    return this.letters.filter((letter) => letter.excursionId === excursionId);
  }

  /** Add readings that came at this instant, on the clock that never jumps, ms. */
  add(readings: readonly Reading[], nowMs: number): void {
    if (this.isEmpty) this.began(nowMs);
    this.newestAtMs = nowMs;
    for (const reading of readings) this.readings.push(reading);
  }

  /** The first of the group came at this instant. */
  began(nowMs: number): void {
    this.oldestAtMs = nowMs;
    this.newestAtMs = nowMs;
  }

  /** Everything is stored: hand back whom to tell, and be empty. */
  clear(): Array<() => void> {
    const { acknowledgements } = this;
    this.readings = [];
    this.findings = [];
    this.letters = [];
    this.facts = {};
    this.deaf = [];
    this.acknowledgements = [];
    return acknowledgements;
  }
}
