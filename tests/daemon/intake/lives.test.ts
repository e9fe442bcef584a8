import { expect, onTestFinished, test, vi } from "vitest";
import { MOMENT_MS } from "../../../rules/moment.js";
import { draw, drawBetween, seeded } from "../../../sensors/simulated/seeded.js";
import type { Finding } from "../../../shared/excursion.js";
import type { Site } from "../../../shared/site.js";
import { DAY_MS, HOUR_MS, SECOND_MS } from "../../../shared/time.js";
import { asReading, judge } from "../../rules/quillmere.js";
import { openRig, SITE } from "./rig.js";

vi.setConfig({ testTimeout: 120_000 });

const STEP_MS = 10 * SECOND_MS;
const QUICK: Site = {
  ...SITE,
  probes: SITE.probes.map((probe) => ({ ...probe, intervalMs: STEP_MS })),
};
const LIVES = 150;
const LIFE_MOST = 60;
/** Our choice: often enough that the judge is told the time in most hours of the backlog. */
const FALTER_SHARE = 0.15;
const READINGS_LEAST = (12 * HOUR_MS) / STEP_MS;

/** One probe's readings, with an hour of warmth in each three. */
function sayingOf(index: number, fromMs: number) {
  const isWarm = (index * STEP_MS) % (3 * HOUR_MS) > 2 * HOUR_MS;
  return { at: fromMs + index * STEP_MS, t: 2 + (index % 10) / 10 + (isWarm ? 9 : 0) };
}

/**
 * A sensor hands over what it kept back of two days to a Drowse that is killed again and again:
 * while it catches up, before its first commit, or after the sensor faltered and the judge was told
 * the time.
 */
function live(seed: number) {
  const rig = openRig(undefined, { site: QUICK });
  onTestFinished(() => rig.close());
  const random = seeded(seed, "lives");
  const fromMs = Math.floor(rig.clock.nowMs() / MOMENT_MS) * MOMENT_MS - 2 * DAY_MS;
  const waiting: ReturnType<typeof sayingOf>[] = [];
  let made = 0;
  const sent: { said: ReturnType<typeof sayingOf>; message: { acknowledged: number } }[] = [];
  const say = () => {
    const said = waiting.shift() ?? sayingOf(made++, fromMs);
    sent.push({ said, message: rig.publish(said) });
    rig.clock.move(4);
  };
  const nextMs = () => waiting[0]?.at ?? fromMs + made * STEP_MS;
  const falter = () => {
    rig.intake.flush();
    rig.clock.move(Math.floor(drawBetween(random, 3, 9) * SECOND_MS));
    rig.intake.tick();
  };
  rig.intake.connected();
  for (let done = 0; done < LIVES; done++) {
    const count = draw(random) < 0.2 ? 0 : Math.floor(draw(random) * LIFE_MOST);
    let falterAt = draw(random) < FALTER_SHARE ? Math.floor(draw(random) * count) : count;
    for (let i = 0; i < count; i++) {
      // Between two moments: after half of one the time makes a sample of it.
      if (i >= falterAt && nextMs() % MOMENT_MS === 0) {
        falter();
        falterAt = count;
      }
      say();
      if (draw(random) < 0.08) rig.intake.flush();
    }
    const lost = sent.filter(({ message }) => message.acknowledged === 0);
    sent.length = 0;
    waiting.unshift(...lost.map(({ said }) => said));
    rig.clock.move(300);
    rig.restart();
    rig.intake.connected();
  }
  while (waiting.length > 0 || made < READINGS_LEAST) say();
  rig.intake.close();
  return { rig, times: Array.from({ length: made }, (_, i) => fromMs + i * STEP_MS) };
}

const inShort = ({ excursionId, atMs, change, cause }: Finding) =>
  `${excursionId} ${change} at ${new Date(atMs).toISOString()} as ${cause}`;

test.each([1, 2, 3, 4])("killed at any moment it tells what was to be told, seed %i", (seed) => {
  const { rig, times } = live(seed);
  expect(rig.stored().map(({ takenAtMs }) => takenAtMs)).toEqual(times);
  const { excursions } = rig.store;
  const told = excursions
    .between(0, Number.MAX_SAFE_INTEGER)
    .flatMap(({ id }) => excursions.history(id));
  // What one judge finds who was never killed.
  const due = judge(rig.stored().map(asReading), QUICK).findings;
  expect(due.length).toBeGreaterThan(2);
  expect(told.map(inShort).sort()).toEqual(due.map(inShort).sort());
});
