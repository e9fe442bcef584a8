import { expect, test } from "vitest";
import { adoptJudge, type JudgeState } from "../../rules/judge.js";
import { recallJudge } from "../../rules/recall.js";
import { seasonOf } from "../../rules/season.js";
import { UNTENDED } from "../../rules/tended.js";
import { DAY_MS, MINUTE_MS } from "../../shared/time.js";
import { asReading, judge, judgeCourse, liveCourse } from "./quillmere.js";

const course = liveCourse({ days: 2, seed: 3 });
const { state } = judgeCourse(course);

/** The same memory as version 1 wrote it down. */
function asFirst(present: JudgeState): string {
  const chambers = present.chambers.map(({ tended: _, ...chamber }) => chamber);
  return JSON.stringify({ ...present, version: 1, chambers });
}

test("a memory of this version comes back as it was", () => {
  expect(recallJudge(JSON.stringify(state))).toEqual(state);
});

test("a memory of the first version keeps what the winter cost, and goes on judging", () => {
  const recalled = recallJudge(asFirst(state))!;
  expect(recalled.chambers[0]!.tended).toEqual(UNTENDED);
  expect(recalled.chambers[0]!.exposure).toEqual(state.chambers[0]!.exposure);
  const [before, after] = [state, recalled].map((s) => seasonOf(s)[0]!);
  expect(after!.reserveDays).toBe(before!.reserveDays);
  const next = liveCourse({ days: 3, seed: 3 }).readings.filter((r) => r.takenAtMs > state.nowMs);
  const events = next.slice(0, (DAY_MS / MINUTE_MS) * 2).map(asReading);
  const start = adoptJudge(recalled, course.site);
  const goOn = judge(events, course.site, (s) => (s.nowMs === 0 ? start : s));
  expect(goOn.state.nowMs).toBeGreaterThan(state.nowMs);
});

test("a memory that is no memory, or a newer one, is told apart", () => {
  for (const text of ["", "{", "null", "[]", '"x"', "{}", '{"version":1}'])
    expect(recallJudge(text), text).toBeNull();
  expect(recallJudge(JSON.stringify({ ...state, version: 99 }))).toBeNull();
});
