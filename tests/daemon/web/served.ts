import type { FastifyInstance } from "fastify";
import { onTestFinished } from "vitest";
import type { Clock } from "../../../daemon/clock.js";
import type { Store } from "../../../daemon/store/store.js";
import { openApp, type PagePorts } from "../../../daemon/web/app.js";
import type { PageConfig } from "../../../daemon/web/page.js";
import { pageConfig } from "../../page-socket.js";
import { NIGHT_MS, QUILLMERE } from "../letters/quillmere.js";
import { openedStore, temporaryFolder } from "../store/temporary-store.js";

/** A clock of which the test is the hand. */
type Hand = Clock & { atMs: number; steadyMs: number };

function handClock(atMs: number): Hand {
  const hand = {
    atMs,
    steadyMs: 0,
    nowMs: () => hand.atMs,
    monotonicMs: () => hand.steadyMs,
  };
  return hand;
}

/** What was logged, as `level message`. */
type Logged = string[];

export type Served = Readonly<{
  app: FastifyInstance;
  store: Store;
  hand: Hand;
  logged: Logged;
  ports: PagePorts;
}>;

/** Pages over an empty store, not listening: ask by `inject`. */
export function servePages(
  change: Partial<{
    passphrase: string | null;
    names: readonly string[];
    host: string;
    config: Partial<PageConfig>;
    nowMs: number;
  }> = {},
): Served {
  const store = openedStore(temporaryFolder());
  const hand = handClock(change.nowMs ?? NIGHT_MS);
  const logged: Logged = [];
  const log = {
    info: (_facts: object, words: string) => void logged.push(`info ${words}`),
    warn: (_facts: object, words: string) => void logged.push(`warn ${words}`),
    error: (facts: object, words: string) =>
      void logged.push(`error ${words} ${JSON.stringify(facts)}`),
  };
  const { passphrase = null, names = [], host = "127.0.0.1" } = change;
  const ports: PagePorts = {
    config: { ...pageConfig(QUILLMERE), ...change.config },
    page: { host, names, passphrase },
    store,
    clock: hand,
    log,
    steadyMs: () => hand.steadyMs,
  };
  const app = openApp(ports);
  onTestFinished(() => app.close());
  return { app, store, hand, logged, ports };
}

export const OWN_HOST = "127.0.0.1:8377";
/** What a browser sends with a form of our own page. */
export const OWN_POST = {
  host: OWN_HOST,
  origin: `http://${OWN_HOST}`,
  "content-type": "application/x-www-form-urlencoded",
};
