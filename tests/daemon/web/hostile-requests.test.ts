import { once } from "node:events";
import { type AddressInfo, connect } from "node:net";
import fc from "fast-check";
import type { InjectOptions } from "fastify";
import { expect, test } from "vitest";
import { composeLetter } from "../../../daemon/letters/compose.js";
import { CONTEXT, finding } from "../letters/quillmere.js";
import { NOTHING, utc } from "../store/temporary-store.js";
import { OWN_HOST, OWN_POST, type Served, servePages } from "./served.js";

const MARK = "<script>mark</script>";
const ID = finding().excursionId;
const LETTER = composeLetter(finding(), CONTEXT)!;

/** A site with a letter, an excursion, and a topic that is markup. */
function serveHostile(passphrase: string | null): Served {
  const served = servePages({ passphrase });
  const heard = {
    topic: `quillmere/${MARK}`,
    probeId: null,
    outcome: "unclaimed",
    count: 1,
    lastAtMs: utc("2026-01-11T03:00:00Z"),
    sample: `"'>${MARK}`,
    detail: MARK,
  } as const;
  const batch = { ...NOTHING, findings: [finding()], letters: [LETTER], heard: [heard] };
  served.store.commit(batch, ["keeper@quillmere.example"]);
  return served;
}

/** Half a surrogate has no encoding (ECMA-262, section 19.2.6.5). */
const encodeWhole = (text: string) => encodeURIComponent(text.replace(/\p{Cs}/gu, ""));

const piece = fc.oneof(
  fc.constantFrom(
    "shed",
    "2026-01-11",
    "2026-01",
    "2025",
    ID,
    LETTER.id,
    "..",
    "%2e%2e",
    "%00",
    "%ff",
  ),
  fc.constantFrom(
    "__proto__",
    "constructor",
    MARK,
    "*",
    ":chamber",
    "a".repeat(600),
    "\u202e",
    "%",
  ),
  fc.string({ unit: "binary", maxLength: 30 }).map(encodeWhole),
  fc.string({ maxLength: 30 }).map((text) => text.replace(/[^!-~]/g, "")),
);
const first = fc.constantFrom(
  "",
  "probes",
  "letters",
  "letter",
  "excursion",
  "winter",
  "enter",
  "leave",
  "robots.txt",
  "journal",
  "journal/write",
  "lot",
  "lots",
  "due",
  "calendar",
);
const path = fc
  .tuple(
    first,
    fc.array(piece, { maxLength: 3 }),
    fc.array(fc.tuple(piece, piece), { maxLength: 3 }),
  )
  .map(([start, rest, query]): string => {
    const asked = query.map(([name, value]) => `${name}=${value}`).join("&");
    return `/${[start, ...rest].join("/")}${asked === "" ? "" : `?${asked}`}`;
  });
const printable = fc.string({ maxLength: 60 });
const headers = fc.record(
  {
    host: fc.oneof({ arbitrary: fc.constant(OWN_HOST), weight: 5 }, printable),
    origin: fc.oneof({ arbitrary: fc.constant(OWN_POST.origin), weight: 3 }, printable),
    cookie: fc.oneof(printable, fc.constant(`drowse=${"A".repeat(43)}`)),
    "accept-language": fc.oneof(printable, fc.constantFrom("en-US", "de", "x-y-z", "en-u-hc-h11")),
    "sec-fetch-site": fc.constantFrom("same-origin", "cross-site", "none", "nonsense"),
    "content-type": fc.constantFrom(
      "application/x-www-form-urlencoded",
      "application/json",
      "application/x-www-form-urlencoded; charset=utf-16",
      "a/b",
    ),
    "x-forwarded-proto": fc.constantFrom("https", "gopher"),
    "x-forwarded-host": printable,
  },
  { requiredKeys: ["host"] },
);
const body = fc.oneof(
  printable,
  fc
    .dictionary(fc.constantFrom("back", "next", "passphrase", "__proto__"), printable)
    .map((given) => new URLSearchParams(given).toString()),
  fc.constantFrom("back=now&back=story", "back[x]=1", "%%%", "a=".repeat(2_000)),
);
const calendar = piece.map((key) => `/calendar/${key}/due.ics`);
/** Addresses at which there is something, so that what is asked of them can do harm. */
const real = fc.constantFrom(
  "/",
  `/excursion/${ID}`,
  `/letter/${LETTER.id}`,
  "/letters",
  "/probes",
);
const request: fc.Arbitrary<InjectOptions> = fc
  .tuple(
    fc.constantFrom("GET", "GET", "GET", "HEAD", "POST", "POST", "PUT", "DELETE", "OPTIONS"),
    fc.oneof({ arbitrary: path, weight: 4 }, { arbitrary: real, weight: 2 }, calendar),
    headers,
    body,
  )
  .map(([method, url, given, payload]) => ({
    method: method as "GET",
    url,
    headers: given,
    ...(method === "POST" || method === "PUT" ? { payload } : {}),
  }));

/** What must hold of any answer. */
async function askAndCheck({ app, logged }: Served, asked: InjectOptions): Promise<number> {
  const { statusCode, headers: answered, body: text } = await app.inject(asked);
  expect(statusCode, text).toBeLessThan(500);
  expect(answered["content-security-policy"]).toContain("default-src 'none'");
  expect(text).not.toContain(MARK);
  // A way out of these pages would be a gift to whoever forges a link.
  if (answered.location !== undefined) expect(String(answered.location)).toMatch(/^\/(?![/\\])/);
  expect(logged.filter((line) => line.startsWith("error"))).toEqual([]);
  return statusCode;
}

test("whatever is asked, it is answered, escaped, and with what keeps a browser safe", async () => {
  const served = serveHostile(null);
  const seen = new Map<number, number>();
  await fc.assert(
    fc.asyncProperty(request, async (asked) => {
      const code = await askAndCheck(served, asked);
      seen.set(code, (seen.get(code) ?? 0) + 1);
    }),
    { numRuns: 3_000, seed: 11_01 },
  );
  // Else the requests would all have been turned away before they were worth anything.
  for (const code of [200, 303, 400, 403, 404, 415, 421])
    expect(seen.get(code) ?? 0, `${code}`).toBeGreaterThan(3);
}, 120_000);

test("without a session nothing that is asked brings out anything", async () => {
  const served = serveHostile("blue mason, red hawthorn");
  const before = served.store.excursions.get(ID);
  // The passphrase itself is tried elsewhere; here each try would take its time.
  const others = request.filter(
    ({ url, method }) => method !== "POST" || !String(url).startsWith("/enter"),
  );
  await fc.assert(
    fc.asyncProperty(others, async (asked) => {
      await askAndCheck(served, asked);
      const { body: text } = await served.app.inject(asked);
      expect(text).not.toMatch(/Quillmere shed|keeper@|door ajar/i);
    }),
    { numRuns: 1_000, seed: 11_02 },
  );
  expect(served.store.excursions.get(ID)).toEqual(before);
}, 120_000);

test("an open page with a name from a topic shows it as text", async () => {
  const { app } = serveHostile(null);
  const { body: text } = await app.inject({ url: "/probes", headers: { host: OWN_HOST } });
  expect(text).toContain("quillmere/&lt;script&gt;mark&lt;/script&gt;");
});

/** Send raw bytes to the listening pages; all that comes back until they close the line. */
async function sendRaw(port: number, bytes: string | Uint8Array): Promise<string> {
  const socket = connect(port, "127.0.0.1");
  let text = "";
  socket.on("data", (part) => {
    text += part.toString("latin1");
  });
  // The other side may close before all is sent, which is what some of these are about.
  socket.on("error", () => {});
  socket.end(bytes);
  await once(socket, "close");
  return text;
}

test("bytes that are no request close the line, and the next one is answered", async () => {
  const { app, logged } = serveHostile(null);
  await app.listen({ host: "127.0.0.1", port: 0 });
  const { port } = app.server.address() as AddressInfo;
  const get = (more: string) => `GET / HTTP/1.1\r\nHost: ${OWN_HOST}\r\n${more}\r\n`;
  const raw: (readonly [string, RegExp])[] = [
    ["GET / HTTP/1.1\r\n\r\n", /^HTTP\/1\.1 400/],
    ["GET / HTTP/1.1\r\nHost: evil.example\r\n\r\n", /^HTTP\/1\.1 421/],
    [`GET http://evil.example/ HTTP/1.1\r\nHost: ${OWN_HOST}\r\n\r\n`, /^HTTP\/1\.1 400/],
    [get(`X: ${"x".repeat(9_000)}\r\n`), /^HTTP\/1\.1 431/],
    // RFC 9112, section 6.3: both lengths at once are how a request is smuggled.
    [get("Content-Length: 3\r\nTransfer-Encoding: chunked\r\n"), /^HTTP\/1\.1 400/],
    [get("Content-Length: -1\r\n"), /^HTTP\/1\.1 400/],
    ["\u0016\u0003\u0001\u0002\u0000\u0001", /^HTTP\/1\.1 400/],
    ["", /^$/],
  ];
  for (const [bytes, answer] of raw) expect(await sendRaw(port, bytes), bytes).toMatch(answer);
  await fc.assert(
    fc.asyncProperty(fc.uint8Array({ minLength: 1, maxLength: 300 }), async (bytes) => {
      expect(await sendRaw(port, bytes)).not.toMatch(/^HTTP\/1\.1 [25]/);
    }),
    { numRuns: 200, seed: 11_03 },
  );
  expect(await sendRaw(port, get("Connection: close\r\n"))).toMatch(/^HTTP\/1\.1 200/);
  expect(logged).toEqual([]);
}, 60_000);
