import { afterEach, expect, test } from "vitest";
import { judgedSoFar } from "../../../daemon/intake/judged-so-far.js";
import { beginJudge, stepJudge } from "../../../rules/judge.js";
import { MINUTE_MS } from "../../../shared/time.js";
import { openRig, SITE } from "./rig.js";

const closes: Array<() => void> = [];
afterEach(() => {
  for (const close of closes.splice(0)) close();
});

/** A rig that has lived for some minutes, a reading in each. */
function lived(minutes: number) {
  const rig = openRig();
  closes.push(() => rig.close());
  for (let minute = 0; minute < minutes; minute++) {
    rig.clock.move(MINUTE_MS);
    rig.publish({ t: 2 + minute / 10 });
    rig.intake.flush();
  }
  return rig;
}

test("who looks sees what the judge made of the last reading that was stored", () => {
  // Short of the next time that the judge writes down what it knows.
  const { store } = lived(8);
  let whole = beginJudge(SITE);
  for (const reading of store.readings.between("shed-air", 0, Number.MAX_SAFE_INTEGER))
    whole = stepJudge(whole, { kind: "reading", reading }, SITE).state;
  const seen = judgedSoFar(store, SITE)!;
  expect(seen.nowMs).toBe(whole.nowMs);
  expect(seen.chambers[0]!.cocoon).toEqual(whole.chambers[0]!.cocoon);
  expect(seen.chambers[0]!.airC).toBeCloseTo(2.6, 6);
  expect(JSON.parse(store.judge.load()!.state).nowMs).toBeLessThan(whole.nowMs);
});

test("the first reading after a start is enough to see something", () => {
  const { store } = lived(1);
  expect(judgedSoFar(store, SITE)).not.toBeNull();
});

test("a probe that has come into the config since is no trouble", () => {
  const { store } = lived(8);
  const probes = [{ ...SITE.probes[0]!, id: "shed-box", place: "box" as const }, ...SITE.probes];
  expect(judgedSoFar(store, { ...SITE, probes })!.chambers[0]!.airC).toBeCloseTo(2.6, 6);
});

test("before the first reading nothing is known", () => {
  const { store } = lived(0);
  expect(judgedSoFar(store, SITE)).toBeNull();
});
