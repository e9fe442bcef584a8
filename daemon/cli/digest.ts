import { join } from "node:path";
import { KnownError } from "../../shared/errors.js";
import { DAY_MS, SECOND_MS } from "../../shared/time.js";
import type { Clock } from "../clock.js";
import { type Config, loadConfig } from "../config.js";
import { makeDigest } from "../digest/make-digest.js";
import { contextOf } from "../mail/context-of.js";
import { pictureDrawer } from "../mail/draw-pictures.js";
import { startOutbox } from "../mail/outbox.js";
import { siteClock } from "../rehearsal/fast-clock.js";
import { claimUnlessKept } from "../store/keep-lock.js";
import { type NewLetter, openStore, type Store } from "../store/store.js";

type Options = Readonly<{ json?: boolean; send?: boolean }>;

const SPAN_MS = 7 * DAY_MS;
/** A slow server may take a minute to answer; whoever waits at a screen waits no longer. */
const SEND_WAIT_MS = 90 * SECOND_MS;
const LOOK_EVERY_MS = 200;

/** Print the digest of the last seven days; with `send`, send it to the keepers as well. */
export async function digest(configFile: string, options: Options): Promise<void> {
  const config = loadConfig(configFile);
  const clock = siteClock(config.store.folder);
  const store = openStore(config.store.folder, config.site, { mode: "look" });
  try {
    const atMs = clock.nowMs();
    const span = { fromMs: atMs - SPAN_MS, toMs: atMs };
    const made = makeDigest(store, span, atMs, contextOf(config, store, atMs), config);
    const { letter, verdict, figures } = made;
    const facts = { ...verdict, figures };
    const text = options.json === true ? `${JSON.stringify(facts)}\n` : `${letter.text}\n`;
    process.stdout.write(text);
    if (options.send !== true) return;
    store.letters.queue(letter, config.keepers);
    process.stderr.write(`drowse: ${await send(store, config, letter, clock)}\n`);
  } finally {
    store.close();
  }
}

/** Let `keep` send a queued letter where it runs, else send it here. @returns what came of it */
async function send(
  store: Store,
  config: Config,
  letter: NewLetter,
  clock: Clock,
): Promise<string> {
  const release = claimUnlessKept(config.store.folder);
  if (release === null) return "the digest is queued; drowse keep sends it within a minute";
  const { mail } = config;
  const folder = join(config.store.folder, "letters");
  const outbox = startOutbox({
    store,
    mail,
    folder,
    clock,
    log: QUIET,
    draw: pictureDrawer(store, config, QUIET),
  });
  try {
    const failed = await untilTried(store, letter.id);
    if (failed === null)
      return mail === null ? `the digest lies in ${folder}` : "the digest is sent";
    throw new KnownError("MAIL_REFUSED", `the digest did not go, and stays queued: ${failed}`);
  } finally {
    await outbox.close();
    release();
  }
}

/** @returns null once every keeper has the letter, else the first failure */
async function untilTried(store: Store, letterId: string): Promise<string | null> {
  for (let waitedMs = 0; waitedMs < SEND_WAIT_MS; waitedMs += LOOK_EVERY_MS) {
    const mine = store.letters.undelivered().filter((delivery) => delivery.letterId === letterId);
    if (mine.length === 0) return null;
    const failure = mine.find(({ lastError }) => lastError !== null);
    if (failure !== undefined) return failure.lastError;
    await new Promise((resolve) => setTimeout(resolve, LOOK_EVERY_MS));
  }
  return "the mail server has not answered yet";
}

const QUIET = { info: () => {}, warn: () => {}, error: () => {} };
