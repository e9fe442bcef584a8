import ICAL from "ical.js";
import { expect, test } from "vitest";
import { OWN_HOST, OWN_POST, servePages } from "../served.js";
import { SPRING_MS, serveYear } from "../year-served.js";

type Pages = Pick<Awaited<ReturnType<typeof serveYear>>, "app" | "store">;

async function get({ app }: Pages, url: string) {
  const asked = (address: string) => app.inject({ url: address, headers: { host: OWN_HOST } });
  const first = await asked(url);
  // A form that writes is sent to an address with a key of its own.
  const { statusCode, body } =
    first.statusCode === 303 ? await asked(first.headers.location!) : first;
  return { status: statusCode, body };
}

async function post({ app }: Pages, url: string, typed: Readonly<Record<string, string>>) {
  const payload = new URLSearchParams(typed).toString();
  const answer = await app.inject({ method: "POST", url, headers: OWN_POST, payload });
  return { status: answer.statusCode, body: answer.body, goTo: answer.headers.location };
}

const entries = ({ store }: Pages) => store.journal.soFar().entries;

test("a deed that a form posts is in the journal, and the journal says so with its cautions", async () => {
  const pages = await serveYear();
  const typed = { chamber: "shed", "saw-mould": "yes", "saw-wasps": "yes", words: "lowest layer" };
  const { status, goTo } = await post(pages, "/journal/write/inspected", typed);
  expect([status, goTo]).toEqual([303, "/journal?wrote=9"]);
  expect(entries(pages).at(-1)).toMatchObject({
    atMs: SPRING_MS,
    chamberId: "shed",
    act: { kind: "inspected", seen: ["mould", "wasps"] },
    words: "lowest layer",
  });
  const { body } = await get(pages, goTo!);
  expect(body).toMatch(/Entry 9 is written[\s\S]*inspected: mould, wasps/);
  expect(body).toMatch(/Mould dust harms lungs[\s\S]*authority/);
});

test("a form that is wrong keeps what was typed, says what is wrong, and writes nothing", async () => {
  const pages = await serveYear();
  const typed = { lot: "hedge-2025", cocoons: "many", parasitised: '"<b>', words: "a </textarea>" };
  const { status, body } = await post(pages, "/journal/write/opened", typed);
  expect(status).toBe(422);
  expect(entries(pages)).toHaveLength(8);
  expect(body).toContain('href="#field-cocoons">Cocoons: expected a whole number from 1');
  expect(body).toContain('value="many"');
  expect(body).toContain('value="&quot;&lt;b&gt;"');
  expect(body).toContain("a &lt;/textarea&gt;");
  expect(body).toContain('<option value="hedge-2025" selected>');
  const boxes = { chamber: "", "saw-nothing": "yes", "saw-mould": "yes" };
  const again = await post(pages, "/journal/write/inspected", boxes);
  expect(again.body).toContain('name="saw-mould" value="yes" checked');
  expect(again.body).toContain('name="saw-nothing" value="yes" checked');
  expect(again.body).not.toContain('name="saw-mites" value="yes" checked');
  expect(again.body).toContain('href="#field-saw">What you saw: expected nothing, or some of');
});

test("correcting by page starts from the entry, and leaves its second alone", async () => {
  const pages = await serveYear();
  await post(pages, "/journal/write/note", { words: "first" });
  const [no, atMs] = [9, SPRING_MS];
  const form = await get(pages, `/journal/write/note?corrects=${no}`);
  expect(form.body).toContain("In place of entry 9");
  expect(form.body).toMatch(/name="on"[^>]*value="2026-04-03T15:30"/);
  const typed = { on: "2026-04-03T15:30", words: "second" };
  await post(pages, `/journal/write/note?corrects=${no}`, typed);
  expect(entries(pages).at(-1)).toMatchObject({ no: 10, corrects: 9, atMs, words: "second" });
  await post(pages, "/journal/write/note?corrects=10", { on: "2026-04-02T08:00", words: "third" });
  expect(entries(pages).at(-1)?.atMs).toBe(Date.UTC(2026, 3, 2, 7));
  const taken = await post(pages, "/journal/write/withdrawn?corrects=11", { words: "" });
  expect(taken.goTo).toBe("/journal?wrote=12");
  const late = await post(pages, "/journal/write/note?corrects=9", { words: "again" });
  expect(late.status).toBe(422);
  expect(late.body).toContain("10 has corrected this one already");
});

test("a lot is entered, shown with what it went through, and changed by page", async () => {
  const pages = await serveYear();
  const wrong = await post(pages, "/lots/new", { lot: "the plum", large: "", small: "" });
  expect(wrong.status).toBe(422);
  expect(wrong.body).toContain('value="the plum"');
  expect(wrong.body).toContain("Large cocoons: expected some cocoons");
  const typed = { lot: "plum", species: "osmia-cornuta", large: "5", small: "9", chamber: "" };
  const { goTo } = await post(pages, "/lots/new", typed);
  expect(goTo).toBe("/lot/plum");
  expect((await get(pages, goTo!)).body).toContain("not in the cold yet");
  const changed = await post(pages, "/lot/plum/change", { ...typed, large: "6" });
  expect(changed.goTo).toBe("/lot/plum");
  expect((await get(pages, "/lot/plum")).body).toContain("6 large, 9 small");
  const { body } = await get(pages, "/lot/hedge-2025");
  expect(body).toContain("It came late: 33 days warm before the cold");
  expect(body).toContain("said to be &lt;b&gt;&quot;early&quot;&lt;/b&gt;");
  expect((await get(pages, "/lots")).body).toMatch(/hedge-2025[\s\S]*20 May 2026/);
});

test("what a keeper saw of mould stands beside a lot's mould index", async () => {
  const pages = await serveYear();
  const mouldRow = async () => {
    const { body } = await get(pages, "/lot/hedge-2025");
    return /Mould index[\s\S]*?<\/(?:dd|li|tr)>/.exec(body)?.[0] ?? "";
  };
  expect(await mouldRow()).toContain("pine wood; you saw some on 15 March 2026<");
  await post(pages, "/journal/write/inspected", { chamber: "shed", "saw-nothing": "yes" });
  expect(await mouldRow()).toContain("you saw none on 3 April 2026, but some on 15 March 2026");
});

test("what does not exist is no page, asked for or posted to", async () => {
  const pages = await serveYear();
  for (const address of ["/lot/none", "/lot/none/change", "/journal/write/none"])
    expect((await get(pages, address)).status, address).toBe(404);
  expect((await post(pages, "/journal/write/none", {})).status).toBe(404);
  expect((await post(pages, "/lot/none/change", { large: "1" })).status).toBe(404);
});

test("what is due leads to the form that writes it down, and the release says why", async () => {
  const pages = await serveYear();
  const { body } = await get(pages, "/due");
  expect(body).toMatch(/Look through the boxes in shed[\s\S]*href="\/journal\/write\/inspected"/);
  expect(body).toContain("Release: ready");
  expect(body).toContain("Bloom was seen on 1 April 2026");
  expect(body).toContain("Bloom and the advice of those who know your place decide");
  expect((await get(pages, "/")).body).toMatch(/What is due[\s\S]*Release: <strong>ready/);
});

test("a calendar needs no session, only the address; a new one shuts the old", async () => {
  const { app, store } = servePages({ passphrase: "hawthorn in the hedge" });
  const pages = { app, store };
  expect((await get(pages, "/due")).status).toBe(403);
  const none = await get(pages, "/calendar/guessed/due.ics");
  expect([none.status, none.body]).toEqual([404, "There is no such calendar.\n"]);
  for (const address of ["/calendar/x/../../due", "/calendar//due.ics", "/calendar/x/other.ics"])
    expect((await get(pages, address)).status, address).toBe(403);
  const open = servePages();
  const address = /\/calendar\/[0-9a-f]{32}\/due\.ics/.exec((await get(open, "/due")).body)![0];
  const answer = await open.app.inject({ url: address, headers: { host: OWN_HOST } });
  expect(answer.headers["content-type"]).toBe("text/calendar; charset=utf-8");
  expect(ICAL.parse(answer.body)[0]).toBe("vcalendar");
  await post(open, "/due", {});
  expect((await get(open, address)).status).toBe(404);
  const next = /\/calendar\/[0-9a-f]{32}\/due\.ics/.exec((await get(open, "/due")).body)![0];
  expect((await get(open, next)).status).toBe(200);
});
