import { expect, test } from "vitest";
import { excursionOf, finding, NIGHT_MS } from "../../letters/quillmere.js";
import { NOTHING } from "../../store/temporary-store.js";
import { OWN_HOST, OWN_POST, servePages } from "../served.js";

test.each([
  "evil.example",
  "evil.example:8377",
  "127.0.0.1.evil.example",
  "localhost.evil.example",
  "a b",
  "user@127.0.0.1",
])("a page asked for under the name %j is refused", async (host) => {
  const { app } = servePages();
  const { statusCode, body } = await app.inject({ url: "/", headers: { host } });
  expect(statusCode).toBe(421);
  expect(body).not.toContain("Quillmere");
});

test.each(["127.0.0.1:8377", "localhost:8377", "[::1]:8377", "192.168.1.20", "bees.example.org"])(
  "a page asked for under the name %j is served",
  async (host) => {
    const { app } = servePages({ names: ["bees.example.org"] });
    expect((await app.inject({ url: "/", headers: { host } })).statusCode).toBe(200);
  },
);

const ID = finding().excursionId;
const DEED = { method: "POST", url: `/excursion/${ID}`, payload: "back=now" } as const;

test.each([
  ["another site's origin", { ...OWN_POST, origin: "http://evil.example" }],
  ["another port of this machine", { ...OWN_POST, origin: "http://127.0.0.1:9999" }],
  ["a hidden origin", { ...OWN_POST, origin: "null" }],
  ["no origin at all", { ...OWN_POST, origin: undefined }],
  ["a browser that says cross-site", { ...OWN_POST, "sec-fetch-site": "cross-site" }],
  ["a browser that says same-site", { ...OWN_POST, "sec-fetch-site": "same-site" }],
])("a post with %s acknowledges nothing", async (_what, given) => {
  const { app, store } = servePages();
  store.commit({ ...NOTHING, findings: [finding()] }, []);
  const headers = Object.fromEntries(
    Object.entries(given).filter((entry): entry is [string, string] => entry[1] !== undefined),
  );
  const { statusCode } = await app.inject({ ...DEED, headers });
  expect(statusCode).toBe(403);
  expect(store.excursions.get(ID)).toEqual(excursionOf(finding()));
});

test.each([
  ["our own page", OWN_POST],
  [
    "our own page behind a proxy that puts its own Host there",
    { ...OWN_POST, origin: "https://bees.example.org" },
  ],
])("a post from %s acknowledges", async (_what, headers) => {
  const { app, store } = servePages({ names: ["bees.example.org"] });
  store.commit({ ...NOTHING, findings: [finding()] }, []);
  const { statusCode, headers: answer } = await app.inject({ ...DEED, headers });
  expect([statusCode, answer.location]).toEqual([303, "/"]);
  expect(store.excursions.get(ID)!.acknowledgedAtMs).toBe(NIGHT_MS);
});

test("only what a form sends is read", async () => {
  const { app } = servePages();
  for (const type of ["application/json", "text/plain", "multipart/form-data; boundary=x"]) {
    const headers = { ...OWN_POST, "content-type": type };
    expect((await app.inject({ ...DEED, headers })).statusCode, type).toBe(415);
  }
  const payload = `back=${"x".repeat(40_000)}`;
  expect((await app.inject({ ...DEED, headers: OWN_POST, payload })).statusCode).toBe(413);
});

test("another site can link to a page and take it as no part of its own", async () => {
  const { app } = servePages();
  const ask = async (mode: string, dest: string) => {
    const headers = {
      host: OWN_HOST,
      "sec-fetch-site": "cross-site",
      "sec-fetch-mode": mode,
      "sec-fetch-dest": dest,
    };
    return (await app.inject({ url: "/", headers })).statusCode;
  };
  expect(await ask("navigate", "document")).toBe(200);
  expect(await ask("navigate", "iframe")).toBe(403);
  expect(await ask("no-cors", "script")).toBe(403);
});

test("every answer carries what keeps a browser safe", async () => {
  const { app } = servePages();
  const asked = ["/", "/nowhere", "/%ff", "/robots.txt"];
  for (const url of asked) {
    const { headers } = await app.inject({ url, headers: { host: OWN_HOST } });
    const policy = String(headers["content-security-policy"]);
    expect(policy, url).toContain("default-src 'none'");
    expect(policy, url).toContain("frame-ancestors 'none'");
    // W3C, Content Security Policy level 3, section 8.3: either would let injected script run.
    expect(policy, url).not.toMatch(/unsafe-(inline|eval)/);
    expect(headers["x-content-type-options"], url).toBe("nosniff");
  }
});
