import formbody from "@fastify/formbody";
import fastify, { type FastifyInstance, type FastifyReply, type FastifyRequest } from "fastify";
import { KnownError } from "../../shared/errors.js";
import { SECOND_MS } from "../../shared/time.js";
import type { Clock } from "../clock.js";
import { html } from "../html.js";
import type { Log } from "../mqtt/arrival-desk.js";
import type { Store } from "../store/store.js";
import { serveCalendar } from "./calendar-feed.js";
import { openEntrance } from "./door/entrance.js";
import { openGuard } from "./door/guard.js";
import { SAFE_HEADERS } from "./door/safe-headers.js";
import { type HeadWord, setPage } from "./look/shell.js";
import { STATIC_FILES } from "./look/static-files.js";
import { keyedAddress } from "./once.js";
import type { Asking, Page, PageConfig, Shown } from "./page.js";
import { PAGES } from "./page-list.js";
import { hourCycleOf, isNarrow } from "./reader.js";

/** What pages are served from and by. */
export type PagePorts = Readonly<{
  config: PageConfig;
  page: Readonly<{ host: string; names: readonly string[]; passphrase: string | null }>;
  store: Store;
  clock: Clock;
  log: Log;
  /** A clock of this boot that no rehearsal hastens, ms. */
  steadyMs: () => number;
}>;

/** A form of ours is far smaller; our choice. */
const BODY_BYTES = 32 * 1024;
const HEADER_BYTES = 8 * 1024;
/** One keeper with two browsers opens a dozen; our choice. */
const CONNECTIONS = 64;
/** Long enough for a phone at the edge of the network, short enough for who only holds the line. */
const REQUEST_MS = 15 * SECOND_MS;
/** Letters' ids are the longest thing in an address. */
const ADDRESS_PART_CHARS = 500;

/** The pages as a server that does not listen yet. */
export function openApp(ports: PagePorts): FastifyInstance {
  const app = fastify({
    http: { maxHeaderSize: HEADER_BYTES, headersTimeout: REQUEST_MS },
    requestTimeout: REQUEST_MS,
    // A line on which nothing has moved for so long is closed.
    connectionTimeout: 2 * REQUEST_MS,
    keepAliveTimeout: REQUEST_MS / 3,
    forceCloseConnections: true,
    bodyLimit: BODY_BYTES,
    routerOptions: { maxParamLength: ADDRESS_PART_CHARS },
    frameworkErrors: (_error, _request, reply: FastifyReply) => {
      reply.code(400).headers(SAFE_HEADERS).type("text/plain").send("No such address.\n");
    },
  });
  app.server.maxConnections = CONNECTIONS;
  app.addHook("onRequest", async (_request, reply) => void reply.headers(SAFE_HEADERS));
  // Only what a form of ours sends is read.
  app.removeAllContentTypeParsers();
  app.register(formbody, { bodyLimit: BODY_BYTES });
  const guard = openGuard(ports.page, ports.steadyMs);
  app.addHook("onRequest", guard.check);
  serveStatics(app);
  if (guard.entry !== null) openEntrance(app, guard.entry, ports.log);
  serveCalendar(app, ports);
  for (const page of PAGES) servePage(app, page, ports);
  app.setNotFoundHandler((request, reply) =>
    sendShown(reply, NOWHERE, askingOf(request, ports), request.url, ports),
  );
  app.setErrorHandler((error, request, reply) => answerError(error, request, reply, ports));
  return app;
}

function serveStatics(app: FastifyInstance): void {
  for (const { address, type, text } of STATIC_FILES)
    app.get(address, async (_request, reply) =>
      reply.type(type).header("cache-control", "public, max-age=31536000, immutable").send(text),
    );
  app.get("/robots.txt", async (_request, reply) =>
    reply.type("text/plain; charset=utf-8").send("User-agent: *\nDisallow: /\n"),
  );
}

function servePage(app: FastifyInstance, page: Page, ports: PagePorts): void {
  app.get(page.path, (request, reply) => {
    const asking = askingOf(request, ports);
    const shown = page.show(asking);
    const isForm = shown !== null && page.writes === true;
    const keyed = isForm ? keyedAddress(request.url, asking.query) : null;
    if (keyed === null) sendShown(reply, shown ?? NOWHERE, asking, request.url, ports);
    else reply.code(303).header("location", keyed).send();
  });
  if (page.take === undefined) return;
  app.post(page.path, (request, reply) => {
    const asking = askingOf(request, ports);
    const taken = page.take!(asking, firstValues(request.body)) ?? NOWHERE;
    // 303 makes the browser ask for the next page afresh: reloading it posts nothing again.
    if ("goTo" in taken) reply.code(303).header("location", taken.goTo).send();
    else sendShown(reply, taken, asking, request.url, ports);
  });
}

const NOWHERE: Shown = {
  title: "No such page",
  status: 404,
  main: html`<h1>There is no such page</h1>
<p>Nothing lies at this address. <a href="/">See how the cocoons are now</a>.</p>
`,
};

const HEAD: readonly HeadWord[] = PAGES.flatMap(({ word, path }) =>
  word === undefined ? [] : [{ word, address: path }],
);

function sendShown(
  reply: FastifyReply,
  shown: Shown,
  asking: Asking,
  url: string,
  { page }: PagePorts,
): void {
  const here = url.split("?")[0]!;
  const text = setPage(shown, asking, { head: HEAD, here, canLeave: page.passphrase !== null });
  reply
    .code(shown.status ?? 200)
    .type("text/html; charset=utf-8")
    .send(text);
}

function askingOf(request: FastifyRequest, { config, store, clock }: PagePorts): Asking {
  const query = firstValues(request.query);
  return {
    config,
    store,
    nowMs: clock.nowMs(),
    hourCycle: hourCycleOf(request.headers["accept-language"]),
    isNarrow: isNarrow(request.headers["user-agent"], query.drawn),
    parts: firstValues(request.params),
    query,
  };
}

/** The first text under each name; a name given twice is no list to anyone here. */
function firstValues(given: unknown): Record<string, string> {
  const values: Record<string, string> = Object.create(null);
  for (const [name, value] of Object.entries(given ?? {})) {
    const first = Array.isArray(value) ? value[0] : value;
    if (typeof first === "string") values[name] = first;
  }
  return values;
}

/** What could not be answered: by us, said and logged; by the one who asks, said alone. */
function answerError(
  error: unknown,
  _request: FastifyRequest,
  reply: FastifyReply,
  { log }: PagePorts,
): void {
  const { statusCode } = error as { statusCode?: number };
  const plain = (status: number, words: string) =>
    reply.code(status).type("text/plain; charset=utf-8").send(`${words}\n`);
  if (statusCode !== undefined && statusCode >= 400 && statusCode < 500)
    return void plain(statusCode, "That could not be read.");
  log.error({ error: String(error) }, "a page could not be made");
  const words = error instanceof KnownError ? error.message : "This page could not be made.";
  plain(503, `${words}\nThe watch goes on; the log says more.`);
}
