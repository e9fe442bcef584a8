import { mkdtempSync, rmSync } from "node:fs";
import { join } from "node:path";
import fc from "fast-check";
import type { InjectOptions } from "fastify";
import { readMailFailure } from "../../../daemon/mail/mail-failure.js";
import { openStore } from "../../../daemon/store/store.js";
import { ownAddress } from "../../../daemon/web/address.js";
import { openApp } from "../../../daemon/web/app.js";
import { hostNameOf, isOwnHost } from "../../../daemon/web/door/host-names.js";
import { isFromOwnPage, isTakenAsPart } from "../../../daemon/web/door/same-origin.js";
import { openSessions } from "../../../daemon/web/door/sessions.js";
import type { PageConfig } from "../../../daemon/web/page.js";
import { hourCycleOf } from "../../../daemon/web/reader.js";
import { YEAR_RULES } from "../../year-rules.js";
import { anyText, type Fuzzed, fuzzed, insist, SHED } from "./fuzzed.js";

const NOW_MS = Date.UTC(2026, 1, 1, 15);
const HOST = "127.0.0.1:8377";
const OWN = new Set(["localhost", "bees.quillmere.example"]);
/** A store that only grows would slow down what is asked of it later. */
const REQUESTS_PER_STORE = 500;

const header = fc.oneof(anyText, fc.constantFrom(HOST, `http://${HOST}`, "null", "same-origin"));
const headers = fc.tuple(header, header, header, header);

function readHeaders([host, origin, site, cookie]: [string, string, string, string]): void {
  hostNameOf(host);
  isOwnHost(host, OWN);
  const isOwn = isFromOwnPage({ host, origin, "sec-fetch-site": site }, OWN);
  insist(!isOwn || /^https?:\/\//i.test(origin.trim()), `from our own page by ${origin}`);
  isTakenAsPart({ "sec-fetch-site": site, "sec-fetch-mode": origin });
  hourCycleOf(cookie);
  insist(!openSessions(() => NOW_MS).holds(cookie), "a session that nobody began");
  insist(/^\/(?![/\\])/.test(ownAddress(host)), "a way off the site");
}

const path = fc.constantFrom(
  "/",
  "/journal",
  "/lots",
  "/lots/new",
  "/due",
  "/letters",
  "/probes",
  "/enter",
  "/winter/shed/2026-01",
  ...["damped", "inspected", "weighed", "moved", "note"].map((deed) => `/journal/write/${deed}`),
);
const names = fc.constantFrom(
  ...["lot", "on", "chamber", "words", "saw-mould", "large", "small", "species", "origin", "to"],
  ...["cocoons", "mass_g", "harvested", "warm_days", "box", "__proto__", "passphrase", "x"],
);
const said = fc.oneof(
  fc.constantFrom("shed", "hedge", "2026-01-11T03:15", "1", "-1", "1e9", "", "../..", "%00"),
  fc.string({ unit: "grapheme", maxLength: 60 }),
);
const form = fc.oneof(
  fc
    .array(fc.tuple(names, said), { maxLength: 9 })
    .map((pairs) => new URLSearchParams(pairs).toString()),
  fc.string({ maxLength: 300 }),
  fc.constantFrom("a[b][c]=1", "%%%", "&".repeat(30_000), "=".repeat(30_000), "a=1&".repeat(7_000)),
);
type Asked = Readonly<{ url: string; method: "GET" | "POST"; cookie: string; payload: string }>;
const asked: fc.Arbitrary<Asked> = fc.record({
  url: fc
    .tuple(path, form)
    .map(([at, query]) =>
      query.length > 200 ? at : `${at}?${encodeURI(query.replace(/\p{Cs}/gu, ""))}`,
    ),
  method: fc.constantFrom("GET", "POST"),
  cookie: fc.string({ maxLength: 80 }).map((text) => text.replace(/[^ -~]/g, "")),
  payload: form,
});

/** Pages over a store of their own, made anew every so often. */
function openPages(folder: string) {
  const site = {
    name: "Quillmere shed",
    timezone: "Europe/London",
    chambers: [SHED],
    probes: [],
  };
  const config: PageConfig = {
    site,
    sources: [],
    temperatureUnit: "C",
    mail: null,
    keepers: ["keeper@quillmere.example"],
    ...YEAR_RULES,
  };
  const errors: string[] = [];
  const quiet = () => {};
  const log = {
    info: quiet,
    warn: quiet,
    error: (facts: object) => void errors.push(JSON.stringify(facts)),
  };
  const clock = { nowMs: () => NOW_MS, monotonicMs: () => 0 };
  const open = () => {
    const home = mkdtempSync(join(folder, "pages-"));
    const store = openStore(home, site);
    const page = { host: "127.0.0.1", names: [], passphrase: null };
    const app = openApp({ config, page, store, clock, log, steadyMs: () => 0 });
    const close = async () => {
      await app.close();
      store.close();
      rmSync(home, { recursive: true });
    };
    return { app, close };
  };
  let served: ReturnType<typeof open> | null = null;
  let count = 0;
  return {
    ask: async (request: InjectOptions): Promise<void> => {
      if (++count % REQUESTS_PER_STORE === 0) {
        await served?.close();
        served = null;
      }
      served ??= open();
      const { statusCode } = await served.app.inject(request);
      insist(statusCode < 500 && errors.length === 0, `${statusCode} ${errors.join(" ")}`);
    },
    close: async () => void (await served?.close()),
  };
}

/** What comes by HTTP, and what a mail server answers. */
export function pageParsers(folder: string) {
  const pages = openPages(folder);
  const ask = ({ cookie, ...request }: Asked) => {
    const own = { host: HOST, origin: `http://${HOST}`, cookie };
    const type = { "content-type": "application/x-www-form-urlencoded" };
    const post = request.method === "POST" ? { headers: { ...own, ...type } } : { headers: own };
    const { payload, ...bare } = request;
    return pages.ask({ ...bare, ...post, ...(request.method === "POST" && { payload }) });
  };
  const parsers: readonly Fuzzed[] = [
    fuzzed("hosts, origins, cookies", headers, [["[::1", "http://[", "x", "drowse="]], readHeaders),
    fuzzed(
      "forms and addresses",
      asked,
      [{ url: "/lots/new", method: "POST", cookie: "", payload: "lot=hedge&large=1&species=x" }],
      ask,
      1,
    ),
    fuzzed("answers of a mail server", anyText, ["\u202e\r\n.\r\n"], (text) => {
      const login = { user: "drowse", password: "sesame" };
      const error = Object.assign(new Error(text), { responseCode: text.length });
      const { message } = readMailFailure(error, "smtp.example:587", login);
      insist(!/[\p{Cc}\u202a-\u202e]/u.test(message) && message.length <= 600, message);
    }),
  ];
  return { parsers, close: pages.close };
}
