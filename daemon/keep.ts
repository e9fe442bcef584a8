import { join } from "node:path";
import { DAY_MS, MINUTE_MS, SECOND_MS } from "../shared/time.js";
import { type Clock, systemClock } from "./clock.js";
import type { Config } from "./config.js";
import { Intake } from "./intake/intake.js";
import { startCheckWatch } from "./keep/check-watch.js";
import { noteClockSet } from "./keep/clock-note.js";
import { type ClosingStack, openClosingStack } from "./keep/closing-stack.js";
import { startHeartbeat } from "./keep/heartbeat.js";
import { startLastingOutbox } from "./keep/lasting-outbox.js";
import { startNightlyCopy } from "./keep/nightly-copy.js";
import { queueReminders } from "./keep/reminders.js";
import { allTurn, startServiceNotice } from "./keep/service-notice.js";
import { openYoungRoom, settleHeap } from "./keep/small-heap.js";
import { watchStranded } from "./keep/stranded-watch.js";
import { noteTrouble } from "./keep/troubles.js";
import { openWeeklyDigest } from "./keep/weekly-digest.js";
import { composeLetter, composeReminder } from "./letters/compose.js";
import { contextOf } from "./mail/context-of.js";
import { pictureDrawer } from "./mail/draw-pictures.js";
import type { ArrivalDesk, Log, OpenBroker } from "./mqtt/arrival-desk.js";
import { openEmbedded } from "./mqtt/embedded-broker.js";
import { openOutside } from "./mqtt/outside-broker.js";
import { storeFileIn } from "./store/database-file.js";
import { type NewLetter, openStore, type Store } from "./store/store.js";
import { type PageServer, startPages } from "./web/page-server.js";

/** A Drowse that keeps watch. */
export type Keeping = Readonly<{
  /** The port of the embedded broker; null with an outside one. */
  port: number | null;
  /** Where its pages are; null without `[page]`, and while they cannot be served. */
  pageAddress: string | null;
  /** Stop: commit what is pending, close newest first, each step under a deadline. */
  close(): Promise<void>;
}>;

/** What the watch is kept by. */
export type KeepPorts = Readonly<{
  clock: Clock;
  log: Log;
  /** The store was found damaged; without a listener the watch goes on from memory. */
  onDamaged?: (error: unknown) => void;
}>;

/** How often the judge is told the time. */
const TICK_MS = 5 * SECOND_MS;
const REMIND_MS = 30 * SECOND_MS;
/** How soon others know, on the state topic, that a loop stands still. */
const TELL_MS = MINUTE_MS;
const PRUNE_MS = DAY_MS / 4;
/** The intake ticks every 5 s; a commit to a tired flash card may take a while. */
const INTAKE_STANDS_MOST_MS = MINUTE_MS;
/** One try to send a letter may take three minutes. */
const OUTBOX_STANDS_MOST_MS = 4 * MINUTE_MS;
/** An outside broker has 20 messages on their way at most unless told otherwise (mosquitto.conf,
 * max_inflight_messages), so a group must not wait for more than it will ever send. */
const GROUP_OF_OUTSIDE_MOST = 16;

/**
 * Keep watch: store, judge, broker, letters, pages, timers, in this order; closed in the reverse one.
 *
 * @throws {KnownError} of the STORE and BROKER families, with all closed again that was open
 */
export async function startKeep(config: Config, ports: KeepPorts): Promise<Keeping> {
  const { clock, log, onDamaged = () => {} } = ports;
  const stack = openClosingStack(log);
  try {
    const store = openStore(config.store.folder, config.site);
    stack.add("the store", () => store.close());

    const outbox = startLastingOutbox({
      store,
      mail: config.mail,
      folder: join(config.store.folder, "letters"),
      clock,
      log,
      draw: pictureDrawer(store, config, log),
    });
    stack.add("the outbox", () => outbox.close());

    const context = (earlier: readonly NewLetter[]) =>
      contextOf(config, store, clock.nowMs(), earlier);
    const stranded = watchStranded(config, store, ports, () => context([]));
    stack.add("letters without a store", () => stranded.close());

    let broker: OpenBroker | null = null;
    const intake = new Intake({
      site: config.site,
      sources: config.sources,
      keepers: config.keepers,
      store,
      clock,
      log,
      ...groupOf(config),
      compose: (finding, earlier) => composeLetter(finding, context(earlier)),
      onGroup: openYoungRoom(),
      onLetters: () => outbox.wake(),
      onRoom: () => broker?.askAgain(),
      onDamaged,
      onClockSet: (byMs) => noteClockSet({ store, clock, log }, byMs),
      onStranded: (letters, since) => stranded.onStranded(letters, since),
      onStored: () => stranded.onStored(),
    });
    stack.add("the intake", () => intake.close());

    broker = await openBroker(config, deskOf(intake, store, clock, log), intake);
    stack.add("the broker", () => closeBroker(intake, broker));

    every(TICK_MS, stack, log, "the judge's clock", () => intake.tick());
    const checks = startCheckWatch({
      site: config.site,
      store,
      keepers: config.keepers,
      log,
      nowMs: () => clock.nowMs(),
      settledSeat: () => intake.settledSeat(),
      useCorrector: (corrector) => intake.useCorrector(corrector),
      context,
      compose: (finding, earlier) => composeLetter(finding, context(earlier)),
      onLetters: () => outbox.wake(),
      pause: () => new Promise((resolve) => setImmediate(resolve)),
    });
    stack.add("the watch for checks", () => checks.close());
    every(TICK_MS, stack, log, "the watch for checks", () => checks.look());
    every(REMIND_MS, stack, log, "reminders", () => {
      const compose = (...[excursion, latest, earlier]: Parameters<Compose>) =>
        composeReminder(excursion, latest, clock.nowMs(), context(earlier));
      if (queueReminders(store, config.site, config.keepers, clock.nowMs(), compose) > 0)
        outbox.wake();
    });
    const digest = openWeeklyDigest({
      config,
      store,
      clock,
      context: () => context([]),
      onLetters: () => outbox.wake(),
    });
    const lookForDigest = every(REMIND_MS, stack, log, "the weekly digest", () => digest.look());
    lookForDigest();

    const copies = startCopiesOf(config, store, { clock, log, onDamaged });
    stack.add("the nightly copy", () => copies?.close());
    every(REMIND_MS, stack, log, "the nightly copy", () => copies?.look());

    const pages = await startPagesOf(config, store, { clock, log });
    stack.add("the pages", () => pages?.close());

    const { keepReadingsDays } = config.store;
    if (keepReadingsDays !== null)
      every(PRUNE_MS, stack, log, "retention", () => {
        store.prune(clock.nowMs() - keepReadingsDays * DAY_MS);
      });

    const loops = [
      { lastTurnMs: () => intake.lastTurnMs, standsMostMs: INTAKE_STANDS_MOST_MS },
      { lastTurnMs: () => outbox.lastTurnMs(), standsMostMs: OUTBOX_STANDS_MOST_MS },
    ];
    const turns = () => allTurn(loops, clock.monotonicMs());
    every(TELL_MS, stack, log, "the state topic", () =>
      broker?.tell(turns() ? "keeping" : "stuck"),
    );
    const heart = startHeartbeatOf(config, store, { clock, log }, turns);
    stack.add("the heartbeat", () => heart?.close());
    const notice = startServiceNotice(loops, clock.monotonicMs);
    stack.add("the service notice", () => notice.close());
    settleHeap();
    const pageAddress = pages?.address() ?? null;
    return { port: broker.port ?? null, pageAddress, close: () => stack.closeAll() };
  } catch (error) {
    await stack.closeAll();
    throw error;
  }
}

type Compose = Parameters<typeof queueReminders>[4];

function groupOf({ broker, store }: Config): { groupCount: number; groupMs: number } {
  const { groupCount, groupMs } = store;
  const most = broker.kind === "outside" ? GROUP_OF_OUTSIDE_MOST : groupCount;
  return { groupCount: Math.min(groupCount, most), groupMs };
}

function deskOf(intake: Intake, store: Store, clock: Clock, log: Log): ArrivalDesk {
  return {
    take: (arrival, acknowledge) => intake.take(arrival, acknowledge),
    refuse: (packet) => intake.refuse(packet),
    forbid: (topic, user) => intake.forbid(topic, user),
    cutOff: (said) => {
      if (said !== null) intake.cutOff();
      noteTrouble({ store, clock, log }, "broker", said);
    },
    connected: () => intake.connected(),
    clock,
    log,
  };
}

async function openBroker(config: Config, desk: ArrivalDesk, intake: Intake): Promise<OpenBroker> {
  if (config.broker.kind === "embedded") return openEmbedded(config.broker, desk);
  return openOutside(config.broker, intake.topicFilters, desk);
}

function startCopiesOf({ store: settings, site }: Config, store: Store, ports: KeepPorts) {
  const { folder, copiesFolder, copyTime: time } = settings;
  if (time === null) return null;
  const { timezone } = site;
  const file = storeFileIn(folder);
  return startNightlyCopy({ ...ports, store, file, folder: copiesFolder, timezone, time });
}

function startHeartbeatOf(
  { heartbeat, site }: Config,
  store: Store,
  ports: KeepPorts,
  turns: () => boolean,
) {
  const trouble = (said: string | null) => noteTrouble({ store, ...ports }, "heartbeat", said);
  if (heartbeat === null) {
    trouble(null);
    return null;
  }
  const openExcursions = () => store.excursions.open().length;
  return startHeartbeat({
    ...ports,
    heartbeat,
    siteName: site.name,
    turns,
    openExcursions,
    trouble,
  });
}

function startPagesOf(config: Config, store: Store, ports: KeepPorts): Promise<PageServer> | null {
  const { page } = config;
  if (page === null) return null;
  // A keeper's session and tries are counted in real time, in a rehearsal too.
  const steadyMs = systemClock.monotonicMs;
  return startPages({ ...ports, config, page, store, steadyMs }, page.port);
}

/** Senders have their acknowledgements before they lose the connection. */
async function closeBroker(intake: Intake, broker: OpenBroker | null): Promise<void> {
  intake.flush();
  await new Promise((resolve) => setImmediate(resolve));
  await broker?.close();
}

/** Do `work` again and again. @returns the same for a turn at once */
function every(
  ms: number,
  stack: ClosingStack,
  log: Log,
  name: string,
  work: () => void,
): () => void {
  let said = "";
  const turn = (): void => {
    try {
      work();
    } catch (error) {
      // The store may be read or written again at the next round; the same trouble is said once.
      if (said !== String(error)) log.error({ error: String(error) }, `${name} failed`);
      said = String(error);
    }
  };
  const timer = setInterval(turn, ms);
  stack.add(name, () => clearInterval(timer));
  return turn;
}
