import { expect, test } from "vitest";
import { HOUR_MS } from "../../../shared/time.js";
import { browserTest, openPage } from "../../browser.js";
import { OWN_HOST, OWN_POST } from "./served.js";
import { serveYear } from "./year-served.js";

type Pages = Awaited<ReturnType<typeof serveYear>>;

async function get({ app }: Pages, url: string): Promise<string> {
  const asked = (address: string) => app.inject({ url: address, headers: { host: OWN_HOST } });
  const first = await asked(url);
  return (first.statusCode === 303 ? await asked(first.headers.location!) : first).body;
}

const post = async ({ app }: Pages, url: string, typed: Readonly<Record<string, string>>) => {
  const payload = new URLSearchParams(typed).toString();
  const answer = await app.inject({ method: "POST", url, headers: OWN_POST, payload });
  return { status: answer.statusCode, body: answer.body, goTo: answer.headers.location ?? "" };
};

/** The key that a form carries. */
const keyIn = (body: string): string =>
  /name="once" value="([0-9a-f]{32})"/.exec(body)?.[1] ?? "none";
const written = ({ store }: Pages) => store.journal.soFar();

test("a deed that is posted twice is written once, and the second answer says so", async () => {
  const pages = await serveYear();
  const url = "/journal/write/damped";
  const typed = { once: keyIn(await get(pages, url)), chamber: "shed", words: "three drops" };
  const [first, second] = [await post(pages, url, typed), await post(pages, url, typed)];
  expect([first.status, first.goTo]).toEqual([303, "/journal?wrote=9"]);
  expect([second.status, second.goTo]).toEqual([303, "/journal?wrote=9&again=yes"]);
  expect(written(pages).entries).toHaveLength(9);
  expect(await get(pages, first.goTo)).toContain("Entry 9 is written.");
  expect(await get(pages, second.goTo)).toContain("Entry 9 was written already");
});

test("the same deed from a form opened anew is another one, and so is a changed form", async () => {
  const pages = await serveYear();
  const url = "/journal/write/damped";
  const typed = { once: keyIn(await get(pages, url)), chamber: "shed", words: "" };
  await post(pages, url, typed);
  await post(pages, url, { ...typed, once: keyIn(await get(pages, url)) });
  expect(written(pages).entries).toHaveLength(10);
  // Gone back, and something else typed: it would be lost if the key alone decided.
  await post(pages, url, { ...typed, words: "the lower box too" });
  await post(pages, "/journal/write/aired", typed);
  expect(written(pages).entries).toHaveLength(12);
});

test("a form that was wrong keeps its key, and is written once it is right", async () => {
  const pages = await serveYear();
  const url = "/journal/write/opened";
  const once = keyIn(await get(pages, url));
  const wrong = { once, lot: "hedge-2025", cocoons: "many", parasitised: "", words: "" };
  const { status, body } = await post(pages, url, wrong);
  expect([status, keyIn(body)]).toEqual([422, once]);
  expect((await post(pages, url, { ...wrong, cocoons: "5" })).goTo).toBe("/journal?wrote=9");
  expect((await post(pages, url, { ...wrong, cocoons: "5" })).goTo).toContain("again=yes");
});

test("a lot, and a change of one, are written once; the lot's page says that it was", async () => {
  const pages = await serveYear();
  const typed = { lot: "plum", species: "osmia-cornuta", large: "5", small: "9", chamber: "shed" };
  const first = { ...typed, once: keyIn(await get(pages, "/lots/new")) };
  expect((await post(pages, "/lots/new", first)).goTo).toBe("/lot/plum");
  const again = await post(pages, "/lots/new", first);
  expect([again.status, again.goTo]).toEqual([303, "/lot/plum?again=yes"]);
  expect(await get(pages, again.goTo)).toContain("That was written already");
  const change = { large: "6", small: "9", once: keyIn(await get(pages, "/lot/plum/change")) };
  for (const goTo of ["/lot/plum", "/lot/plum?again=yes"])
    expect((await post(pages, "/lot/plum/change", change)).goTo).toBe(goTo);
  expect(written(pages).lots.filter(({ id }) => id === "plum")).toHaveLength(2);
});

test("a form's address keeps its key, and the key of one asked for again is the same", async () => {
  const { app } = await serveYear();
  const ask = (url: string) => app.inject({ url, headers: { host: OWN_HOST } });
  const { statusCode, headers } = await ask("/journal/write/note?lot=hedge-2025");
  expect(statusCode).toBe(303);
  expect(headers.location).toMatch(/^\/journal\/write\/note\?lot=hedge-2025&once=[0-9a-f]{32}$/);
  const [first, second] = [await ask(headers.location!), await ask(headers.location!)];
  expect([first.statusCode, second.statusCode]).toEqual([200, 200]);
  expect(keyIn(first.body)).toBe(headers.location!.slice(-32));
  expect(keyIn(second.body)).toBe(keyIn(first.body));
  expect((await ask("/journal/write/none")).statusCode).toBe(404);
});

test("the same from a form kept as a bookmark is another deed on another day", async () => {
  const pages = await serveYear();
  const url = "/journal/write/damped";
  const typed = { once: keyIn(await get(pages, url)), chamber: "shed" };
  await post(pages, url, typed);
  pages.hand.atMs += 5 * HOUR_MS;
  expect((await post(pages, url, typed)).goTo).toContain("again=yes");
  pages.hand.atMs += 2 * HOUR_MS;
  expect((await post(pages, url, typed)).goTo).toBe("/journal?wrote=10");
});

test("a post without a key, or with a made-up one, is written as it comes", async () => {
  const pages = await serveYear();
  for (const once of [{}, { once: "1" }, { once: '"<b>' }])
    await post(pages, "/journal/write/damped", { chamber: "shed", ...once });
  expect(written(pages).entries).toHaveLength(11);
});

browserTest(
  "a keeper who goes back and presses the button again has written once",
  async () => {
    const pages = await serveYear();
    const { page } = await openPage({ javaScriptEnabled: false });
    await page.goto(`${pages.base}/journal/write/damped`);
    await page.getByLabel("In your own words").fill("three drops");
    await page.getByRole("button", { name: "Write it down" }).click();
    expect(await page.getByRole("status").textContent()).toContain("Entry 9 is written");
    await page.goBack();
    await page.getByLabel("In your own words").fill("three drops");
    await page.getByRole("button", { name: "Write it down" }).click();
    expect(await page.getByRole("status").textContent()).toContain("Entry 9 was written already");
    expect(written(pages).entries).toHaveLength(9);
  },
  60_000,
);
