import type { Cause, Finding, Urgency } from "../../../shared/excursion.js";
import { HOUR_MS, MINUTE_MS } from "../../../shared/time.js";
import type { Label, LabelKind } from "./label.js";

/** What a judge told the keeper: as much of a finding as scoring needs. */
export type Told = Pick<
  Finding,
  "atMs" | "change" | "cause" | "urgency" | "startedAtMs" | "chamberId" | "probeId"
>;

/** How one fault of a winter was told. */
export type Verdict = Readonly<{
  label: Label;
  /** The first letter of its window that speaks of the right kind of thing; null if none did. */
  letter: Told | null;
  /** Minutes from when the clock for this kind starts: for a dead compressor when its next start
   * was due, otherwise from the fault's start. null if never told. */
  delayMin: number | null;
  causeRight: boolean;
  /** Told within what a good judge manages. */
  inTime: boolean;
}>;

/** A winter's marks. */
export type Score = Readonly<{
  verdicts: readonly Verdict[];
  inVain: readonly Told[];
  letters: number;
}>;

/** What a good judge does at one interval, min: from opening, from due start, from silence. */
export type Par = Readonly<{ doorMin: number; deadMin: number; muteMin: number }>;

/** The marks to be reached with a reading every `intervalMs`, with or without humidity. */
export function parOf(intervalMs: number, humidity: boolean): Par {
  const door = intervalMs > 2 * MINUTE_MS ? 12 : 8;
  return {
    doorMin: humidity ? door : 15,
    deadMin: 60,
    muteMin: (3 * intervalMs) / MINUTE_MS + 5,
  };
}

/** Does this finding put a letter in the keeper's inbox? */
function isLetter(told: Pick<Told, "change" | "urgency">): boolean {
  const urgent: readonly Urgency[] = ["visit", "rush"];
  return told.change !== "ended" && urgent.includes(told.urgency);
}

/**
 * Mark what a judge told in a winter against its labels.
 *
 * A letter is in vain when it falls in no label's window: from the label's start until it has
 * ended and the fridge has had 3 h, or 24 h after a dead compressor or a thermostat, to recover.
 */
export function scoreWinter(labels: readonly Label[], told: readonly Told[], par: Par): Score {
  const letters = told.filter(isLetter).sort((a, b) => a.atMs - b.atMs);
  const verdicts = labels.map((label) => judgeLabel(label, letters, par));
  const inVain = letters.filter((l) => !labels.some((label) => isWithin(label, l.atMs)));
  return { verdicts, inVain, letters: letters.length };
}

function isWithin(label: Label, atMs: number): boolean {
  return atMs >= label.startMs && atMs <= label.endMs + recoveryMs(label.kind);
}

function recoveryMs(kind: LabelKind): number {
  return kind === "cooling-lost" || kind === "over-cooling" ? 24 * HOUR_MS : 3 * HOUR_MS;
}

function judgeLabel(label: Label, letters: readonly Told[], par: Par): Verdict {
  const ofProbes = label.kind === "probe-mute";
  const letter = letters.find((l) => isWithin(label, l.atMs) && isOfProbes(l.cause) === ofProbes);
  if (letter === undefined) {
    return { label, letter: null, delayMin: null, causeRight: false, inTime: false };
  }
  const fromMs = label.nextStartDueMs ?? label.startMs;
  const delayMin = (letter.atMs - fromMs) / MINUTE_MS;
  const causeRight = letter.cause === label.kind;
  return {
    label,
    letter,
    delayMin,
    causeRight,
    inTime: isInTime(label, letter.atMs, delayMin, par),
  };
}

function isOfProbes(cause: Cause): boolean {
  return cause.startsWith("probe-");
}

function isInTime(label: Label, atMs: number, delayMin: number, par: Par): boolean {
  switch (label.kind) {
    case "door-ajar":
      return delayMin <= par.doorMin;
    case "probe-mute":
      return delayMin <= par.muteMin;
    case "over-cooling":
      return label.cocoonCrosses0AtMs === null || atMs < label.cocoonCrosses0AtMs;
    case "cooling-lost":
      return delayMin <= par.deadMin && !crossedBefore(label, atMs);
  }
}

/** Cocoons passed 5 °C first, and had taken over an hour from the due start to do so. */
function crossedBefore(label: Label, atMs: number): boolean {
  const { cocoonCrosses5AtMs: crossMs, nextStartDueMs: dueMs, startMs } = label;
  return crossMs !== null && crossMs - (dueMs ?? startMs) > HOUR_MS && atMs >= crossMs;
}
