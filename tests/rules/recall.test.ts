import { expect, test } from "vitest";
import type { AirWatch } from "../../rules/air-watch.js";
import { adoptJudge, beginJudge } from "../../rules/judge.js";
import { recallJudge } from "../../rules/recall.js";
import { seasonOf } from "../../rules/season.js";
import { UNTENDED } from "../../rules/tended.js";
import { NEVER_WET } from "../../rules/wet-spells.js";
import { DAY_MS, HOUR_MS, MINUTE_MS } from "../../shared/time.js";
import { asReading, judge, judgeCourse, liveCourse } from "./quillmere.js";

const course = liveCourse({ days: 2, seed: 3 });
const { state } = judgeCourse(course);

/** The same memory as an earlier version wrote it down. */
function asEarlier(version: 1 | 2 | 3 | 4 | 5 | 6 | 7 | 8 | 9 | 10 | 11 | 12): string {
  if (version === 12) return written({ ...state, version });
  const eleventh = { ...state, chambers: state.chambers.map(withoutDamp) };
  if (version === 11) return written({ ...eleventh, version });
  const tenth = {
    ...eleventh,
    hearings: state.hearings.map(({ excusedMs: _, ...hearing }) => hearing),
    chambers: eleventh.chambers.map(withoutLate),
  };
  if (version === 10) return written({ ...tenth, version });
  const ninth = { ...tenth, chambers: tenth.chambers.map(withoutJump) };
  if (version === 9) return written({ ...ninth, version });
  const eighth = { ...ninth, chambers: ninth.chambers.map(withoutSpells) };
  if (version === 8) return written({ ...eighth, version });
  const hearings = tenth.hearings.map(({ longMs: _, ...hearing }) => hearing);
  const seventh = { ...eighth, hearings };
  if (version === 7) return written({ ...seventh, version });
  const sixth = { ...seventh, chambers: seventh.chambers.map(withoutSeen) };
  if (version === 6) return written({ ...sixth, version });
  const fifth = { ...sixth, chambers: sixth.chambers.map(withoutUsualBottom) };
  if (version === 5) return written({ ...fifth, version });
  const { health: ____, ...known } = fifth;
  if (version >= 3) return written({ ...known, version });
  const chambers = known.chambers.map((chamber) => {
    const { slow: _, gathering: __, learning: ___, unseen: _____, tended, ...first } = chamber;
    return version === 1 ? first : { ...first, tended: { damped: tended.damped } };
  });
  return written({ ...known, version, chambers });
}

/** Before the thirteenth a rise was not followed once it had turned, nor were lapses remembered. */
const SINCE_THIRTEEN = ["tail", "hpaTail", "levelSinceMs", "levelC", "lapse", "toldColdC"];

const written = (memory: unknown): string =>
  JSON.stringify(memory, (key, value) => (SINCE_THIRTEEN.includes(key) ? undefined : value));

/** Before the twelfth no rise was noticed by its vapour alone. */
function withoutDamp<T extends Readonly<{ watch: AirWatch }>>(chamber: T) {
  const { watch } = chamber;
  if (watch.rise === null) return chamber;
  const { damp: _, ...rise } = watch.rise;
  return { ...chamber, watch: { ...watch, rise } };
}

/** Before the eleventh what came late was judged as though it had happened when it came. */
function withoutLate({ unseen, ...chamber }: (typeof state.chambers)[number]) {
  const { deaf: _, ...seen } = unseen;
  return { ...chamber, unseen: seen };
}

/** Before the tenth it was not kept how the air had come to stand high. */
function withoutJump(chamber: ReturnType<typeof withoutLate>) {
  const { jumpC: _, jumpedToC: __, ...overdue } = chamber.watch.overdue;
  return { ...chamber, watch: { ...chamber.watch, overdue } };
}

/** Before the ninth it was not kept when water lay on what, nor what had stirred the air. */
function withoutSpells(chamber: ReturnType<typeof withoutJump>) {
  const { wetSpells: _, ...slow } = chamber.slow;
  return { ...chamber, slow };
}

/** Before the seventh every place had the same longest gap, and humidity came with warmth only. */
function withoutSeen(chamber: ReturnType<typeof withoutSpells>) {
  const { alone: _, gathering, slow, ...others } = chamber;
  const { freshMs: __, ...slot } = gathering;
  const places = slow.places.map(({ seenMs: ___, ...place }) => place);
  return { ...others, gathering: slot, slow: { ...slow, places } };
}

function withoutUsualBottom<T extends Readonly<{ watch: Pick<AirWatch, "cycle"> }>>(chamber: T) {
  const { watch } = chamber;
  const { usualBottomC: _, ...habit } = watch.cycle.habit!;
  return { ...chamber, watch: { ...watch, cycle: { ...watch.cycle, habit } } };
}

test("a memory of this version comes back as it was", () => {
  expect(recallJudge(JSON.stringify(state))).toEqual(state);
});

test.each([1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12] as const)(
  "a memory of version %s keeps what the winter cost, and goes on judging",
  (version) => {
    const recalled = recallJudge(asEarlier(version))!;
    expect(recalled.chambers[0]!.tended).toEqual(
      version >= 3 ? state.chambers[0]!.tended : UNTENDED,
    );
    expect(recalled.chambers[0]!.exposure).toEqual(state.chambers[0]!.exposure);
    const pauses = (h: (typeof state.hearings)[number]) =>
      version >= 8 ? h : { ...h, longMs: null };
    // What a rise had left once it had turned is known from the thirteenth on.
    const withoutTails = (watch: AirWatch): AirWatch => {
      const rises = watch.known.rises.map((past) => ({ ...past, tail: [], hpaTail: [] }));
      return { ...watch, known: { ...watch.known, rises } };
    };
    expect(recalled.hearings).toEqual(state.hearings.map(pauses));
    const { wetSpells } = state.chambers[0]!.slow;
    expect(recalled.chambers[0]!.slow.wetSpells).toEqual(version >= 9 ? wetSpells : NEVER_WET);
    const { watch: now } = state.chambers[0]!;
    // Before the sixth it did not know the usual bottom, and takes the present one for it.
    const habit = { ...now.cycle.habit!, usualBottomC: now.cycle.habit!.bottomC };
    const watch = version >= 6 ? now : { ...now, cycle: { ...now.cycle, habit } };
    // Before the fourth it remembered no vapour of rises, which the signs of a door compare.
    const known = { ...watch.known, rises: [] };
    const kept = version >= 4 ? watch : { ...watch, rise: null, known };
    expect(recalled.chambers[0]!.watch).toEqual(withoutTails(kept));
    // Before the fifth it knew nothing of how well probes measure, and learns it from now on.
    const health = version >= 5 ? state.health : beginJudge(course.site).health;
    expect(adoptJudge(recalled, course.site).health).toEqual(health);
    // Before the seventh places had no longest gap of their own: an hour, as it was for all.
    for (const { seenMs } of recalled.chambers[0]!.slow.places) expect(seenMs).toBe(HOUR_MS);
    const [before, after] = [state, recalled].map((s) => seasonOf(s, course.site)[0]!);
    expect(after!.reserveDays).toBe(before!.reserveDays);
    const next = liveCourse({ days: 3, seed: 3 }).readings.filter((r) => r.takenAtMs > state.nowMs);
    const events = next.slice(0, (DAY_MS / MINUTE_MS) * 2).map(asReading);
    const start = adoptJudge(recalled, course.site);
    const goOn = judge(events, course.site, (s) => (s.nowMs === 0 ? start : s));
    expect(goOn.state.nowMs).toBeGreaterThan(state.nowMs);
    expect(goOn.state.chambers[0]!.slow.places.length).toBe(2);
  },
);

test("a rise that an earlier version followed was noticed by its warmth", () => {
  const stored = JSON.parse(asEarlier(11));
  const onset = { atMs: state.nowMs - 2 * MINUTE_MS, airC: 2, hpa: null };
  stored.chambers[0].watch.rise = { onsetMs: onset.atMs, baseC: 2, peakC: 5, before: [onset] };
  const { rise } = recallJudge(JSON.stringify(stored))!.chambers[0]!.watch;
  expect(rise).toMatchObject({ damp: false, peakC: 5 });
});

test("an excursion that an earlier version opened ends with a cost that is a number", () => {
  const heat = {
    excursionId: "shed.heat.x",
    cause: "warm",
    urgency: "visit",
    probeId: null,
    startedAtMs: state.nowMs,
    overAtMs: null,
    coldestC: 2,
    warmestC: 6,
    from: { degreeHoursAbove: 0, degreeHoursBelow: 0, reserveDays: 0 },
  };
  const earlier = JSON.parse(asEarlier(1));
  earlier.chambers[0].heat = heat;
  const start = adoptJudge(recallJudge(JSON.stringify(earlier))!, course.site);
  const next = liveCourse({ days: 3, seed: 3 }).readings.filter((r) => r.takenAtMs > state.nowMs);
  const { findings } = judge(next.map(asReading), course.site, (s) => (s.nowMs === 0 ? start : s));
  const ended = findings.find((f) => f.excursionId === heat.excursionId)!;
  expect(ended.change).toBe("ended");
  // Of the water nothing is known yet, which is no number but no nonsense either.
  for (const cost of Object.values(ended.cost)) expect(cost ?? 0).toBeGreaterThanOrEqual(0);
});

test("an excursion of the first version cost no water before, one that knows its own keeps it", () => {
  const sums = { degreeHoursAbove: 1, degreeHoursBelow: 2, reserveDays: 3 };
  const water = { wetHours: 4, mouldIndex: 0.5 };
  const earlier = JSON.parse(asEarlier(1));
  earlier.chambers[0].heat = { excursionId: "shed.heat.x", from: sums };
  earlier.chambers[0].cold = { excursionId: "shed.chill.x", from: { ...sums, ...water } };
  const { heat, cold } = recallJudge(JSON.stringify(earlier))!.chambers[0]!;
  expect(heat!.from).toEqual({ ...sums, wetHours: 0, mouldIndex: 0 });
  expect(cold!.from).toEqual({ ...sums, ...water });
});

test("a memory that is no memory, or a newer one, is told apart", () => {
  for (const text of ["", "{", "null", "[]", '"x"', "{}", '{"version":1}'])
    expect(recallJudge(text), text).toBeNull();
  expect(recallJudge(JSON.stringify({ ...state, version: 99 }))).toBeNull();
});
