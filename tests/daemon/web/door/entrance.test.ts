import { expect, test } from "vitest";
import { DAY_MS, MINUTE_MS } from "../../../../shared/time.js";
import { OWN_HOST, OWN_POST, type Served, servePages } from "../served.js";

const SECRET = "blue mason, red hawthorn";
const give = ({ app }: Served, passphrase: string, remoteAddress = "192.168.1.7") =>
  app.inject({
    method: "POST",
    url: "/enter",
    headers: OWN_POST,
    payload: new URLSearchParams({ passphrase, next: "/probes" }).toString(),
    remoteAddress,
  });
const ask = ({ app }: Served, url: string, cookie?: string) =>
  app.inject({ url, headers: { host: OWN_HOST, ...(cookie === undefined ? {} : { cookie }) } });

/** Give the right passphrase; the cookie as a browser sends it back. */
async function enter(served: Served): Promise<string> {
  const { headers } = await give(served, SECRET);
  return String(headers["set-cookie"]).split(";")[0]!;
}

test("without a session nothing is shown but the way in", async () => {
  const served = servePages({ passphrase: SECRET });
  for (const url of ["/", "/probes", "/letters", "/nowhere"]) {
    const { statusCode, body } = await ask(served, url);
    expect(statusCode, url).toBe(403);
    expect(body, url).not.toMatch(/Quillmere|shed/);
  }
});

test("the passphrase opens a session that leads on to the page asked for", async () => {
  const served = servePages({ passphrase: SECRET });
  const { statusCode, headers } = await give(served, SECRET);
  expect([statusCode, headers.location]).toEqual([303, "/probes"]);
  const cookie = String(headers["set-cookie"]);
  expect(cookie).toMatch(/^drowse=[\w-]{43};/);
  // RFC 6265, section 4.1.2.6, and its successor's SameSite.
  expect(cookie).toContain("HttpOnly");
  expect(cookie).toContain("SameSite=Strict");
  expect(cookie).not.toContain("Secure");
  const shown = await ask(served, "/probes", cookie.split(";")[0]);
  expect(shown.statusCode).toBe(200);
  expect(shown.body).toContain("shed-air");
});

test("over TLS the cookie never travels in the open", async () => {
  const { app } = servePages({ passphrase: SECRET, names: ["bees.example.org"] });
  const headers = {
    ...OWN_POST,
    host: "bees.example.org",
    origin: "https://bees.example.org",
    "x-forwarded-proto": "https",
  };
  const payload = new URLSearchParams({ passphrase: SECRET }).toString();
  const answer = await app.inject({ method: "POST", url: "/enter", headers, payload });
  expect(answer.headers["set-cookie"]).toContain("; Secure");
});

test("a session is over when it is ended, idle for a month, or another's", async () => {
  const served = servePages({ passphrase: SECRET });
  const first = await enter(served);
  const second = await enter(served);
  const leave = { method: "POST", url: "/leave", headers: { ...OWN_POST, cookie: first } } as const;
  expect((await served.app.inject(leave)).statusCode).toBe(303);
  expect((await ask(served, "/", first)).statusCode).toBe(403);
  served.hand.steadyMs += 29 * DAY_MS;
  expect((await ask(served, "/", second)).statusCode).toBe(200);
  served.hand.steadyMs += 30 * DAY_MS;
  expect((await ask(served, "/", second)).statusCode).toBe(403);
  expect((await ask(served, "/", `drowse=${"A".repeat(43)}`)).statusCode).toBe(403);
});

test("a guesser gets few tries, and others still get theirs", async () => {
  const served = servePages({ passphrase: SECRET });
  const codes: number[] = [];
  for (let i = 0; i < 8; i++) codes.push((await give(served, `guess ${i}`)).statusCode);
  expect(codes).toEqual([403, 403, 403, 403, 403, 429, 429, 429]);
  const late = await give(served, SECRET);
  expect(late.statusCode).toBe(429);
  expect(Number(late.headers["retry-after"])).toBeGreaterThan(0);
  expect((await give(served, SECRET, "192.168.1.8")).statusCode).toBe(303);
  served.hand.steadyMs += 3 * MINUTE_MS;
  expect((await give(served, SECRET)).statusCode).toBe(303);
});

test("many guesses at once are many tries", async () => {
  const served = servePages({ passphrase: SECRET });
  const all = await Promise.all(Array.from({ length: 20 }, (_, i) => give(served, `guess ${i}`)));
  expect(all.filter(({ statusCode }) => statusCode === 403)).toHaveLength(5);
});

test("what the way in goes on to is a page of ours, whatever it was told", async () => {
  const { app } = servePages({ passphrase: SECRET });
  for (const next of [
    "https://evil.example/",
    "//evil.example",
    "/\\evil.example",
    "/\t/evil.example",
    "javascript:alert(1)",
  ]) {
    const payload = new URLSearchParams({ passphrase: SECRET, next }).toString();
    const answer = await app.inject({ method: "POST", url: "/enter", headers: OWN_POST, payload });
    expect(answer.headers.location, next).toBe("/");
  }
});

test("a letter written in another way is still the same passphrase", async () => {
  const served = servePages({ passphrase: "schl\u00fcsselblume" });
  expect((await give(served, "schlu\u0308sselblume")).statusCode).toBe(303);
});
