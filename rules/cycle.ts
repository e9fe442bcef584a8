import { median, quantile } from "simple-statistics";
import { MINUTE_MS } from "../shared/time.js";
import type { AirSample } from "./recent-air.js";

/** One turn of the thermostat, from the end of a cooling to the end of the next. */
type Turn = Readonly<{
  topC: number;
  bottomC: number;
  riseMs: number;
  fallMs: number;
  /** Fastest rise between neighbouring samples, K/min. */
  steepest: number;
}>;

/** What this fridge does when nothing is wrong, learned from its own turns. */
export type Habit = Readonly<{
  /** Turns it was learned from; below `SURE_TURNS` the figures are only a beginning. */
  turns: number;
  topC: number;
  bottomC: number;
  /** The top over many days, which a thermostat that drifts does not soon take along. */
  usualTopC: number;
  /** The bottom over many days likewise. */
  usualBottomC: number;
  /** Longest usual rise and fall, ms. */
  riseMs: number;
  fallMs: number;
  /** Fastest usual rise, K/min. */
  steepest: number;
}>;

/** How fast a fridge warms over the whole of a pause, K/min. */
export const pauseCPerMin = ({ topC, bottomC, riseMs }: Habit): number =>
  Math.max((topC - bottomC) / Math.max(riseMs / MINUTE_MS, 1), 0.01);

export type CycleState = Readonly<{
  /** 1 while the air rises, −1 while it falls, 0 before the first turn. */
  direction: 1 | -1 | 0;
  extremeC: number;
  extremeAtMs: number;
  /** When the present rise or fall began, and the air then. */
  turnedAtMs: number;
  turnedC: number;
  steepest: number;
  lastC: number;
  lastAtMs: number;
  /** The rise that waits for its fall to make a whole turn; null after a disturbance. */
  rise: Readonly<{ topC: number; riseMs: number; steepest: number; topAtMs: number }> | null;
  turns: readonly Turn[];
  /** Turns in a row that a disturbance kept out; many of them are a new habit. */
  strange: readonly Turn[];
  habit: Habit | null;
}>;

/** Turns kept to learn from, our choice: about half a day of a usual fridge. */
const TURNS_KEPT = 24;
/** From so many turns on a habit is relied on, our choice. */
export const SURE_TURNS = 8;
/** So many strange turns in a row are how the fridge runs now, our choice. */
const NEW_HABIT_TURNS = 8;

export function beginCycle(): CycleState {
  return {
    direction: 0,
    extremeC: 0,
    extremeAtMs: 0,
    turnedAtMs: 0,
    turnedC: 0,
    steepest: 0,
    lastC: 0,
    lastAtMs: 0,
    rise: null,
    turns: [],
    strange: [],
    habit: null,
  };
}

/** How far the air must come back before a turn counts, K: above noise, below the usual swing. */
function turnThresholdC(habit: Habit | null): number {
  if (habit === null) return 0.4;
  return Math.min(1, Math.max(0.3, 0.35 * (habit.topC - habit.bottomC)));
}

/**
 * Follow the thermostat by one sample.
 *
 * @param quiet false while a disturbance of the air is under way: its turns teach nothing,
 * unless so many come in a row that they are how the fridge runs now
 */
export function stepCycle(state: CycleState, sample: AirSample, quiet: boolean): CycleState {
  const { airC, atMs } = sample;
  if (state.lastAtMs === 0) {
    return {
      ...state,
      extremeC: airC,
      extremeAtMs: atMs,
      turnedAtMs: atMs,
      turnedC: airC,
      lastC: airC,
      lastAtMs: atMs,
    };
  }
  const minutes = (atMs - state.lastAtMs) / MINUTE_MS;
  const slope = minutes > 0.25 ? (airC - state.lastC) / minutes : 0;
  const steepest = state.direction >= 0 && slope > state.steepest ? slope : state.steepest;
  const threshold = turnThresholdC(state.habit);
  const { direction } = state;
  const further = direction >= 0 ? airC >= state.extremeC : airC <= state.extremeC;
  if (direction === 0) {
    if (Math.abs(airC - state.turnedC) < threshold)
      return { ...state, lastC: airC, lastAtMs: atMs };
    const way = airC > state.turnedC ? 1 : -1;
    return {
      ...state,
      direction: way,
      extremeC: airC,
      extremeAtMs: atMs,
      lastC: airC,
      lastAtMs: atMs,
    };
  }
  const turns = !further && Math.abs(airC - state.extremeC) >= threshold;
  if (turns) return turn({ ...state, steepest }, sample, quiet);
  // Written out: a spread would cost as much as the judging of a quiet sample.
  return {
    direction,
    extremeC: further ? airC : state.extremeC,
    extremeAtMs: further ? atMs : state.extremeAtMs,
    turnedAtMs: state.turnedAtMs,
    turnedC: state.turnedC,
    steepest,
    lastC: airC,
    lastAtMs: atMs,
    rise: state.rise,
    turns: state.turns,
    strange: state.strange,
    habit: state.habit,
  };
}

function turn(state: CycleState, sample: AirSample, quiet: boolean): CycleState {
  const phaseMs = state.extremeAtMs - state.turnedAtMs;
  const next = {
    ...state,
    direction: (state.direction === 1 ? -1 : 1) as 1 | -1,
    turnedAtMs: state.extremeAtMs,
    turnedC: state.extremeC,
    extremeC: sample.airC,
    extremeAtMs: sample.atMs,
    steepest: 0,
    lastC: sample.airC,
    lastAtMs: sample.atMs,
  };
  if (state.direction === 1) {
    const { steepest, extremeC: topC, extremeAtMs: topAtMs } = state;
    return { ...next, rise: { topC, riseMs: phaseMs, steepest, topAtMs } };
  }
  if (state.rise === null) return next;
  const { topC, riseMs, steepest } = state.rise;
  const made: Turn = { topC, riseMs, steepest, bottomC: state.extremeC, fallMs: phaseMs };
  return learn({ ...next, rise: null }, made, quiet);
}

function learn(state: CycleState, made: Turn, quiet: boolean): CycleState {
  if (!quiet) {
    const strange = [...state.strange, made];
    if (strange.length < NEW_HABIT_TURNS) return { ...state, strange };
    return { ...state, strange: [], turns: strange, habit: habitOf(strange, state.habit) };
  }
  const turns = [...state.turns, made].slice(-TURNS_KEPT);
  return { ...state, strange: [], turns, habit: habitOf(turns, state.habit) };
}

/**
 * Middle and edge from the half that nothing disturbs: defrosts and openings only lift the tops
 * and lengthen the rises, in a slow fridge a third of them, so the edge is mirrored from below.
 */
function mirrored(values: number[]): number {
  return 2 * median(values) - quantile(values, 0.2);
}

// How fast the usual top and bottom follow, K a turn; our choice: up within hours, down over many
// days.
const USUAL_UP_C = 0.05;
const USUAL_DOWN_C = 0.008;

function usualC(before: number | null, nowC: number): number {
  if (before === null) return nowC;
  return nowC > before
    ? Math.min(nowC, before + USUAL_UP_C)
    : Math.max(nowC, before - USUAL_DOWN_C);
}

function habitOf(turns: readonly Turn[], before: Habit | null): Habit {
  const topC = mirrored(turns.map((t) => t.topC));
  const bottomC = -mirrored(turns.map((t) => -t.bottomC));
  const sure = before === null || before.turns < SURE_TURNS ? null : before;
  return {
    turns: turns.length,
    topC,
    usualTopC: usualC(sure === null ? null : sure.usualTopC, topC),
    bottomC,
    usualBottomC: usualC(sure === null ? null : sure.usualBottomC, bottomC),
    riseMs: mirrored(turns.map((t) => t.riseMs)),
    fallMs: mirrored(turns.map((t) => t.fallMs)),
    steepest: mirrored(turns.map((t) => t.steepest)),
  };
}

/** So many turns in a row tell that a thermostat has sunk: one may follow a defrost. Our choice. */
const SUNK_TURNS = 2;

/** How far the last turns lie below where this thermostat has turned for days, K; null if unsure. */
export function sunkC({ habit, turns }: CycleState): number | null {
  if (habit === null || habit.turns < SURE_TURNS) return null;
  let least = Number.POSITIVE_INFINITY;
  for (let i = Math.max(0, turns.length - SUNK_TURNS); i < turns.length; i++) {
    const { topC, bottomC } = turns[i]!;
    least = Math.min(least, habit.usualTopC + habit.usualBottomC - topC - bottomC);
  }
  return least / 2;
}
