import { mean } from "simple-statistics";
import type { Steps } from "../../../rules/checks/components.js";
import type { Sample } from "../../../rules/checks/steadiness.js";
import type { Pair, Reference } from "../../../shared/check.js";
import { KnownError } from "../../../shared/errors.js";
import { formatClock } from "../../../shared/site-calendar.js";
import { MINUTE_MS } from "../../../shared/time.js";
import { instructionsFor, setInstructions } from "../../checks/instructions.js";
import {
  type LiveReadings,
  readingsOfBroker,
  readingsOfStore,
} from "../../checks/live-readings.js";
import { trueValue } from "../../checks/make-check.js";
import type { PairsFile } from "../../checks/pairs-file.js";
import { openStay } from "../../checks/stay.js";
import { steadyRule, stepOfProbe, WAIT_MIN } from "../../checks/steady-rules.js";
import { takePoint } from "../../checks/take-point.js";
import { readTypedNumber } from "../../checks/typed-number.js";
import { valueWords } from "../../checks/words.js";
import type { Clock } from "../../clock.js";
import type { Config } from "../../config.js";
import { isKept } from "../../store/keep-lock.js";
import type { Store } from "../../store/store.js";
import { type Asker, openLines } from "./asker.js";
import { type CheckOptions, SALT_SPAN, wrongUse } from "./options.js";
import type { Planned } from "./plan.js";

/** What a check is made of. */
export type Gathered = Readonly<{ reference: Reference; pairs: readonly Pair[]; steps: Steps }>;

/** Where live readings are taken and who is told of it. */
export type LivePorts = Readonly<{
  config: Config;
  store: Store;
  clock: Clock;
  options: CheckOptions;
  asker: Asker | null;
  input: NodeJS.ReadableStream;
  say(words: string): void;
}>;

/** The pairs of a file, held against what was planned. */
export function pairsOfFile(planned: Planned, file: PairsFile, name: string): Gathered {
  const reference = settle(planned, null);
  const pairs = file.pairs.map(({ atMs, probe, shown }, i) => {
    if (shown === null && reference.kind === "instrument")
      throw new KnownError("PAIRS_FAULTY", `${name}: pair ${i + 1} has no value of the reference`);
    return { atMs, probe, reference: trueValue(reference, shown ?? 0) };
  });
  return { reference, pairs, steps: file.steps };
}

/** The reference, with the temperature of a salt solution as the probe itself measured it. */
function settle({ reference, probe }: Planned, warmthC: number | null): Reference {
  if (reference.kind !== "salt") return reference;
  const temperatureC = reference.temperatureC ?? warmthC;
  if (temperatureC === null)
    throw wrongUse(`--salt-temperature is missing, and ${probe.id} measures no temperature here`);
  if (temperatureC < SALT_SPAN.low || temperatureC > SALT_SPAN.high)
    throw new KnownError(
      "CHECK_REFUSED",
      `the solution is at ${temperatureC.toFixed(1)} °C, expected ${SALT_SPAN.low} to ${SALT_SPAN.high}`,
    );
  return { kind: "salt", salt: reference.salt, temperatureC };
}

/** Enough past readings to see in which steps a probe speaks. */
const PAST_MS = 24 * 60 * MINUTE_MS;

/** Take pairs on live readings: wait until the probe is steady, at one point or more. */
export async function pairsLive(planned: Planned, ports: LivePorts): Promise<Gathered> {
  const { config, store, clock, options, asker, say } = ports;
  const { probe, quantity } = planned;
  const saying = { quantity, unit: config.temperatureUnit };
  if (asker !== null) asker.say(`\n${setInstructions(instructionsFor(planned.reference.kind))}\n`);
  const past = [...store.readings.between(probe.id, clock.nowMs() - PAST_MS, clock.nowMs())];
  const step = stepOfProbe(past, quantity);
  const live = await openLive(ports, probe.id);
  const stay = openStay(store, probe.id, clock, options.inPlace !== true);
  if (options.inPlace !== true) say(`${probe.id} is not judged while it is being checked`);
  const shownValues = openShown(planned, ports);
  const pairs: Pair[] = [];
  const warmths: number[] = [];
  const shownSteps: number[] = [];
  try {
    for (let point = 1; ; point++) {
      const first = await shownValues.before(point);
      if (first === "end") break;
      const samples = await takePoint({
        live,
        clock,
        rule: steadyRule(quantity, probe.intervalMs, config.store.groupMs),
        step,
        waitMs: (options.wait ?? WAIT_MIN[quantity]) * MINUTE_MS,
        saying,
        say,
        goesOn: stay.goesOn,
      });
      const steadyAt = mean(samples.map(({ value }) => value));
      const shown = await shownValues.after(first, valueWords(steadyAt, saying));
      warmths.push(...warmthsAt(live, samples));
      const warmthC = warmths.length === 0 ? null : mean(warmths);
      const reference = settle(planned, warmthC);
      if (shown !== null) shownSteps.push(shown.step);
      const isTrue = trueValue(reference, shown?.value ?? 0);
      for (const { atMs, value } of samples) pairs.push({ atMs, probe: value, reference: isTrue });
      say(`steady at ${valueWords(steadyAt, saying)}: ${samples.length} pairs taken`);
      if (!(await shownValues.another())) break;
    }
  } finally {
    await live.close();
    shownValues.close();
    const untilMs = stay.end();
    if (untilMs !== null)
      say(
        `put ${probe.id} back in its place; it is judged again from ` +
          `${formatClock(untilMs, config.site.timezone)} on`,
      );
  }
  const warmthC = warmths.length === 0 ? null : mean(warmths);
  const reference = shownSteps.length === 0 ? null : Math.min(...shownSteps);
  return { reference: settle(planned, warmthC), pairs, steps: { probe: step, reference } };
}

function warmthsAt(live: LiveReadings, samples: readonly Sample[]): number[] {
  const times = new Set(samples.map(({ atMs }) => atMs));
  return live
    .since(samples[0]!.atMs)
    .flatMap(({ takenAtMs, temperatureC }) =>
      times.has(takenAtMs) && temperatureC !== null ? [temperatureC] : [],
    );
}

async function openLive(
  { config, store, clock }: LivePorts,
  probeId: string,
): Promise<LiveReadings> {
  if (isKept(config.store.folder)) return readingsOfStore(store, probeId);
  if (config.broker.kind === "outside") return readingsOfBroker(config, probeId, clock);
  throw new KnownError(
    "CHECK_REFUSED",
    "nothing takes readings in: start drowse keep, or give the pairs with --pairs FILE.csv",
  );
}

type Shown = Readonly<{ value: number; step: number }> | null;

/**
 * Where the values of the reference come from: the command line, lines of the input, or the
 * keeper. Ice and salts need none.
 */
function openShown(planned: Planned, { options, asker, input, config }: LivePorts) {
  const { quantity, reference } = planned;
  const read = (text: string): Shown =>
    readTypedNumber(text, quantity, "value", asker === null ? "C" : config.temperatureUnit);
  const must = (text: string): Shown => {
    const typed = read(text);
    if (typed === null) throw wrongUse(`the reference reads "${text}", expected a number`);
    return typed;
  };
  const lines = options.reads === "-" ? openLines(input) : null;
  const fixed = lines === null && options.reads !== undefined ? must(options.reads) : null;
  const isAsked = reference.kind === "instrument" && lines === null && fixed === null;
  if (isAsked && asker === null)
    throw wrongUse("--reads is missing: what the reference shows, or - for a line at each point");
  return {
    /** What is known before a point is taken; "end" where there is no further one. */
    async before(point: number): Promise<Shown | "end"> {
      if (lines !== null) {
        const line = await lines.next();
        return line === null ? "end" : must(line);
      }
      if (asker !== null && point > 1)
        await asker.ask("Bring both to the next value, then press return", "ready");
      return fixed;
    },
    async after(first: Shown, steadyAt: string): Promise<Shown> {
      if (!isAsked) return first;
      return asker!.askFor(`The probe is steady at ${steadyAt}. The reference shows`, read);
    },
    async another(): Promise<boolean> {
      if (lines !== null) return true;
      if (asker === null || reference.kind === "ice") return false;
      const answer = await asker.ask("Another point, at another value: yes or no", "no");
      return /^y/i.test(answer);
    },
    close: () => lines?.close(),
  };
}
