import { MINUTE_MS } from "../shared/time.js";
import type { Known } from "./acquaintance.js";
import { type Habit, pauseCPerMin } from "./cycle.js";
import { saturationPressureHpa as saturationHpa } from "./humid-air.js";
import { likenessOf } from "./likeness.js";
import { lingerOf } from "./linger.js";
import { rhythmOf } from "./rhythm.js";
import { mixing, type Rise, STEEPEST_UNKNOWN, vapourLost } from "./rise.js";
import { bell, flag, usualOf } from "./usual-rises.js";

/** What speaks for or against a door left open while the air still climbs or stays up. */
export type DoorSigns = Readonly<{
  /** ln of the early warming, K/min: a heater is slower than a room. */
  lnEarly: number;
  /** ln of early against fastest warming: an opening is quick and then over. */
  lnEvenness: number;
  /** Present slope as a share of the early one. */
  slopeShare: number;
  lnRise: number;
  /** ln of the warming against that of this fridge's large openings, beyond and within it. */
  beyondOpenings: number;
  withinOpenings: number;
  /** ln of one more than the long rises of the last days: how often this fridge defrosts visibly. */
  lnLong: number;
  /** ln of long rises a day over the last month: in a fridge that has none, one is a door. */
  lnLongADay: number;
  /** 1 where it warms just as fast as this fridge's long rises, falling to 0. */
  likeDefrost: number;
  /** ln of one more than the remembered rises that took the same course. */
  lnAlike: number;
  /** How far it has come down from its peak, K. */
  fallenC: number;
  /** Minutes past the longest ordinary opening. */
  late: number;
  /** Warming beyond what a defrost can do, K. */
  beyondDefrostC: number;
  aboveTopC: number;
  offSchedule: number;
  onSchedule: number;
  tooSoon: number;
  /** 1 while this fridge's openings are not known. */
  unknown: number;
  /** ln of one more than the rises remembered: how much likeness can say at all. */
  lnSeen: number;
  /** 1 while the turns of its thermostat are not known. */
  unsettled: number;
  vapourLost: number;
  vapourLostMuch: number;
  mixing: number;
  mixing2: number;
  /** Likeness to remembered rises with a soft edge: see `Likeness`. */
  near: number;
  nearBoth: number;
  far: number;
  /** 1 where hardly any remembered rise still climbed by now. */
  noneClimbing: number;
  beyondAll: number;
  beyondClimbing: number;
  mixOpen: number;
  mixOpenOff: number;
  mixLong: number;
  /** Vapour gained by the peak, hPa, and its present slope as a share of it. */
  vapourGain: number;
  vapourSlope: number;
  /** 1 where it began in the midst of a slower rise, and how fast that was, K/min. */
  bent: number;
  preSlope: number;
  /** How well long rises keep to a clock, and how near and how far its time is, weighed by that. */
  clockShare: number;
  clockNear: number;
  clockOff: number;
  /** 1 where the slower rise was due. */
  underDue: number;
  /** Warming beyond what the slower rise would have brought, K. */
  overUnder: number;
  /** How well a fridge's rises keep a beat, how sure that is, and how near it this one began. */
  beatShare: number;
  beatSure: number;
  beatNear: number;
  beatOff: number;
  /** How near the beat the slower rise began in whose midst this one did. */
  beatUnder: number;
  /** Likeness to its kin: to rises that keep the beat, or to those that do not. */
  lnKin: number;
  kinClimbing: number;
  kinNear: number;
  kinFar: number;
  kinBeyond: number;
  /** Whether one of its kind is due by the time that usually lies between them. */
  waited: number;
  waitSpread: number;
  /** Vapour for each kelvin against the last openings. */
  mixLately: number;
  /** Share of the warming, and of the vapour, that came within the first two minutes. */
  warmFront: number;
  vapourFront: number;
  /** Vapour against saturation now, 0 to 1. */
  saturated: number;
  /** 1 where it was noticed by its vapour alone. */
  damp: number;
  /** 1 once it has come down from its peak, how long that is ago, and how much of it is left. */
  turned: number;
  lnSincePeak: number;
  left: number;
  /** Present slope, K/min, and as a share of how this fridge falls when it cools. */
  slopeNow: number;
  fallsAsUsual: number;
  /** How far above its usual top it is now, K. */
  aboveTopNow: number;
  /** ln of one more than the minutes it has hardly moved. */
  lnLevel: number;
  /** What lingers, against earlier rises: see `Linger`. */
  lingers: number;
  lingersKin: number;
  lnAsWarm: number;
  vapourLingers: number;
  /** Vapour now beyond what there was before, hPa. */
  vapourNow: number;
  /** Vapour for each kelvin beyond what long rises had, and beyond the driest openings, hPa/K. */
  mixBeyondLong: number;
  mixBeyondDry: number;
  /** ln of the vapour gained against the middle of all rises. */
  lnGain: number;
  /** ln of one more than the minutes since the last remembered rise began. */
  lnSinceLast: number;
  /** ln of one more than the minutes the slower rise had gone on in whose midst this one began. */
  lnUnderFor: number;
  /** ln of the early warming against the steepest of a pause, and against the whole of it. */
  steeper: number;
  quicker: number;
  /** Where between its usual bottom and top the air was when it began: 0 to 1. */
  basePhase: number;
  lnMinutes: number;
  lnSamples: number;
}>;

// Stand-ins for what is not known yet; our choice.
const TOP_UNKNOWN_C = 4.5;
const VAPOUR_LOST_UNKNOWN = 0.25;
const MIXING_UNKNOWN = 0.35;
const VAPOUR_FRONT_UNKNOWN = 0.6;
const SATURATED_UNKNOWN = 0.8;
const FALL_UNKNOWN = 0.15;
const PHASE_UNKNOWN = 0.5;
const PAUSE_UNKNOWN = 0.1;
const DAY_MIN = 1440;
/** The most that a defrost warms the air, K; our choice, from the usual 3 to 8 K. */
const DEFROST_MOST_C = 7.5;
/** Vapour gained is too little to ask for its slope below this, hPa. */
const GAIN_LEAST_HPA = 0.4;

const clamp = (value: number, low: number, high: number) => Math.min(high, Math.max(low, value));

/** Gather the signs of one rise at the present sample. */
export function doorSigns(rise: Rise, known: Known, habit: Habit | null): DoorSigns {
  const now = rise.before[rise.before.length - 1]!;
  const minutes = (now.atMs - rise.onsetMs) / MINUTE_MS;
  const early = Math.max(rise.early, 0.05);
  const riseC = Math.max(rise.peakC - rise.baseC, 0.3);
  const usual = usualOf(known, rise);
  const { largeC, longEarly, clock, under } = usual;
  const beyond = largeC === null ? 0 : Math.log(riseC / largeC);
  const likeDefrost = longEarly === null ? 0 : bell(Math.log(early / longEarly), 0.25);
  const lost = clamp(vapourLost(rise) ?? VAPOUR_LOST_UNKNOWN, -0.1, 1);
  const mix = clamp(mixing(rise) ?? MIXING_UNKNOWN, -0.5, 1.5);
  const like = likenessOf(known, rise);
  const { kin } = like;
  const rhythm = rhythmOf(known.rises, rise.onsetMs);
  const mixOpen = clamp(like.mixAgainstOpenings, -1, 1);
  const linger = lingerOf(known, rise);
  return {
    lnEarly: Math.log(early),
    lnEvenness: Math.log(early / Math.max(rise.steepest, 0.05)),
    slopeShare: clamp(rise.slope / early, -0.5, 1),
    lnRise: Math.log(riseC),
    beyondOpenings: Math.max(0, beyond - 0.25),
    withinOpenings: clamp(beyond, -1, 0.3),
    lnLong: usual.lnLong,
    lnLongADay: usual.lnLongADay,
    likeDefrost,
    lnAlike: Math.log(1 + like.alike),
    fallenC: rise.peakC - now.airC,
    late: minutes - usual.longMin,
    beyondDefrostC: Math.max(0, riseC - DEFROST_MOST_C),
    aboveTopC: clamp(rise.peakC - (habit?.topC ?? TOP_UNKNOWN_C), -2, 12),
    offSchedule: usual.offSchedule,
    onSchedule: usual.onSchedule,
    tooSoon: usual.tooSoon,
    unknown: flag(largeC === null),
    lnSeen: Math.log(1 + known.rises.length),
    unsettled: flag(habit === null),
    vapourLost: lost,
    vapourLostMuch: Math.max(0, lost - 0.25),
    mixing: mix,
    mixing2: mix * mix,
    near: Math.log(1 + like.near),
    nearBoth: Math.log(1 + like.nearBoth),
    far: like.far,
    noneClimbing: flag(like.climbing < 3),
    beyondAll: clamp(like.beyondAll, -2, 1),
    beyondClimbing: clamp(like.beyondClimbing, -1.5, 1),
    mixOpen,
    mixOpenOff: Math.abs(mixOpen),
    mixLong: clamp(like.mixAgainstLong, -1, 1),
    vapourGain: clamp(gainedHpa(rise), -1, 8),
    vapourSlope: clamp(vapourSlope(rise), -1, 1),
    bent: flag(rise.under !== null),
    preSlope: clamp(rise.under?.slope ?? 0, 0, 1.5),
    clockShare: clock.share,
    clockNear: clock.share * bell(clock.offMin, 6),
    clockOff: clock.share ** 3 * (1 - bell(clock.offMin, 12)),
    underDue: under,
    overUnder: rise.under === null ? 0 : Math.max(0, riseC - rise.under.slope * minutes),
    beatShare: rhythm.share,
    beatSure: Math.min(rhythm.odds, 40) / 40,
    beatNear: rhythm.share * bell(rhythm.offMin, 5),
    beatOff: rhythm.share ** 4 * (1 - bell(rhythm.offMin, 12)),
    beatUnder: usual.beatUnder,
    lnKin: Math.log(1 + kin.seen),
    kinClimbing: Math.log(1 + kin.climbing),
    kinNear: Math.log(1 + kin.nearBoth),
    kinFar: kin.far,
    kinBeyond: clamp(kin.beyond, -1.5, 1),
    waited: clamp(like.lnWait, -2, 1),
    waitSpread: clamp(like.lnWaitSpread, 0, 2),
    mixLately: clamp(like.mixAgainstLately, -1, 1),
    warmFront: clamp((rise.marks[0] ?? riseC) / riseC, -0.2, 1.2),
    vapourFront: clamp(vapourFront(rise), -0.5, 1.5),
    saturated: now.hpa === null ? SATURATED_UNKNOWN : now.hpa / saturationHpa(now.airC),
    damp: flag(rise.damp),
    turned: flag(rise.turned),
    lnSincePeak: Math.log(1 + (now.atMs - rise.peakAtMs) / MINUTE_MS),
    left: clamp((now.airC - rise.baseC) / riseC, -0.5, 1),
    slopeNow: clamp(rise.slope, -1, 1),
    fallsAsUsual: clamp(-rise.slope / fallOf(habit), -1, 2),
    aboveTopNow: clamp(now.airC - (habit?.topC ?? TOP_UNKNOWN_C), -2, 12),
    lnLevel: Math.log(1 + (now.atMs - rise.levelSinceMs) / MINUTE_MS),
    lingers: clamp(linger.beyond, -2, 1.5),
    lingersKin: clamp(linger.beyondKin, -2, 1.5),
    lnAsWarm: Math.log(1 + linger.asWarm),
    vapourLingers: clamp(linger.beyondHpa, -4, 4),
    vapourNow: rise.baseHpa === null || now.hpa === null ? 0 : clamp(now.hpa - rise.baseHpa, -3, 8),
    mixBeyondLong: clamp(like.mixBeyondLong, -1, 1),
    mixBeyondDry: clamp(like.mixBeyondDry, -1, 1),
    lnGain: clamp(like.lnGain, -2, 2),
    lnSinceLast: Math.log(1 + minutesSince(like.lastOnsetMs, rise.onsetMs)),
    lnUnderFor: Math.log(
      1 + (rise.under === null ? 0 : minutesSince(rise.under.onsetMs, rise.onsetMs)),
    ),
    steeper: clamp(Math.log(early / Math.max(habit?.steepest ?? STEEPEST_UNKNOWN, 0.05)), -2, 3),
    quicker: clamp(Math.log(early / (habit === null ? PAUSE_UNKNOWN : pauseCPerMin(habit))), -2, 4),
    basePhase: habit === null ? PHASE_UNKNOWN : clamp(phaseOf(rise, habit), -0.5, 1.5),
    lnMinutes: Math.log(Math.max(minutes, 1)),
    lnSamples: Math.log(rise.samples),
  };
}

/** How fast this fridge falls while it cools, K/min. */
const fallOf = (habit: Habit | null): number =>
  habit === null
    ? FALL_UNKNOWN
    : Math.max((habit.topC - habit.bottomC) / Math.max(habit.fallMs / MINUTE_MS, 1), 0.02);

/** Minutes from one moment to another, a day at the most. */
const minutesSince = (fromMs: number | null, toMs: number): number =>
  fromMs === null ? DAY_MIN : Math.min(DAY_MIN, Math.max(0, (toMs - fromMs) / MINUTE_MS));

const phaseOf = ({ baseC }: Rise, { topC, bottomC }: Habit): number =>
  (baseC - bottomC) / Math.max(topC - bottomC, 0.2);

/** Vapour gained by the peak, hPa; 0 where humidity is not measured. */
const gainedHpa = ({ baseHpa, peakHpa }: Rise): number =>
  baseHpa === null || peakHpa === null ? 0 : peakHpa - baseHpa;

/** Vapour gained over the last two minutes or two samples, as a share of all that was gained. */
function vapourSlope(rise: Rise): number {
  const from = rise.before[0]!.hpa;
  const to = rise.before[rise.before.length - 1]!.hpa;
  const gained = gainedHpa(rise);
  return from === null || to === null || gained <= GAIN_LEAST_HPA ? 0 : (to - from) / gained;
}

/** Share of the vapour gained that came within the first two minutes. */
function vapourFront(rise: Rise): number {
  const gained = gainedHpa(rise);
  const first = rise.hpaMarks[0];
  return first === undefined || gained <= GAIN_LEAST_HPA ? VAPOUR_FRONT_UNKNOWN : first / gained;
}
