import { expect, test } from "vitest";
import type { NewLetter } from "../../../daemon/store/store.js";
import { NOTHING, openedStore, temporaryFolder, utc } from "./temporary-store.js";

const CREATED = utc("2026-12-01T08:05:00Z");
const KEEPERS = ["ida@example.org", "tom@example.org"];

const letter = (id: string, change: Partial<NewLetter> = {}): NewLetter => ({
  id,
  kind: "opening",
  excursionId: "shed-door-1",
  createdAtMs: CREATED,
  subject: "Shut the shed fridge",
  text: "Go and shut the door of the shed fridge.",
  html: "<p>Go and shut the door of the shed fridge.</p>",
  messageId: `<${id}@quillmere.example>`,
  inReplyTo: null,
  pictures: [],
  ...change,
});

function storeWith(...letters: readonly NewLetter[]) {
  const store = openedStore(temporaryFolder());
  store.commit({ ...NOTHING, letters }, KEEPERS);
  return store;
}

test("a new letter is due at once to every keeper", () => {
  const { letters } = storeWith(letter("a"));
  expect(letters.due(CREATED - 1, 10)).toEqual([]);
  expect(letters.nextDueAtMs()).toBe(CREATED);
  expect(letters.due(CREATED, 10)).toEqual(
    KEEPERS.map((keeper) => ({
      letter: letter("a"),
      delivery: {
        letterId: "a",
        keeper,
        attempts: 0,
        nextTryAtMs: CREATED,
        sentAtMs: null,
        givenUpAtMs: null,
        lastError: null,
      },
    })),
  );
});

test("a letter told again changes nothing, not even after it was sent", () => {
  const store = storeWith(letter("a"));
  for (const keeper of KEEPERS) store.letters.sent("a", keeper, CREATED + 1);
  store.commit({ ...NOTHING, letters: [letter("a", { text: "other" })] }, ["new@example.org"]);
  store.letters.queue(letter("a"), KEEPERS);
  expect(store.letters.due(Infinity, 10)).toEqual([]);
  expect(store.letters.ofExcursion("shed-door-1")).toEqual([letter("a")]);
});

test("a failed try waits for its next, and one given up is not tried again", () => {
  const { letters } = storeWith(letter("a"));
  const [ida, tom] = KEEPERS as [string, string];
  letters.failed("a", ida, CREATED + 5, CREATED + 60_000, "connection refused", false);
  letters.failed("a", tom, CREATED + 5, CREATED + 60_000, "no such mailbox", true);
  expect(letters.due(CREATED + 59_999, 10)).toEqual([]);
  expect(letters.nextDueAtMs()).toBe(CREATED + 60_000);
  const [again, ...others] = letters.due(CREATED + 60_000, 10);
  expect(others).toEqual([]);
  expect(again?.delivery).toMatchObject({
    keeper: ida,
    attempts: 1,
    lastError: "connection refused",
  });
  expect(letters.undelivered()).toMatchObject([
    { keeper: ida, givenUpAtMs: null },
    { keeper: tom, givenUpAtMs: CREATED + 5, lastError: "no such mailbox" },
  ]);
  letters.sent("a", ida, CREATED + 70_000);
  letters.sent("a", ida, CREATED + 75_000);
  expect(letters.undelivered()).toMatchObject([{ keeper: tom }]);
  expect(letters.nextDueAtMs()).toBeNull();
  // A failure that is reported after the success, by a second outbox say, changes nothing.
  letters.failed("a", ida, CREATED + 80_000, CREATED + 90_000, "late", true);
  expect(letters.between(0, Infinity)[0]?.deliveries[0]).toMatchObject({
    keeper: ida,
    attempts: 2,
    sentAtMs: CREATED + 70_000,
    givenUpAtMs: null,
  });
});

test("no letter waits for a clock to catch up that was set back", () => {
  const HOUR_MS = 3_600_000;
  const { letters } = storeWith(letter("a"));
  for (const keeper of KEEPERS)
    letters.failed("a", keeper, CREATED, CREATED + 60_000, "no answer", false);
  letters.clockWasSet(-5 * HOUR_MS);
  const dueAtMs = CREATED - 5 * HOUR_MS + 60_000;
  expect(letters.due(dueAtMs - 1, 10)).toEqual([]);
  expect(letters.due(dueAtMs, 10)).toHaveLength(2);
  // Nobody was there when it was set: no letter waits for as long as this.
  expect(letters.due(CREATED - 30 * HOUR_MS, 10)).toHaveLength(2);
});

test("the longest due comes first, and no more than asked for", () => {
  const store = openedStore(temporaryFolder());
  const later = letter("later", { createdAtMs: CREATED + 1_000 });
  store.commit({ ...NOTHING, letters: [later, letter("first"), letter("second")] }, ["i@e.org"]);
  const ids = (limit: number) => store.letters.due(Infinity, limit).map((due) => due.letter.id);
  expect(ids(10)).toEqual(["first", "second", "later"]);
  expect(ids(2)).toEqual(["first", "second"]);
});

test("letters are found by when they were made and by their excursion", () => {
  const { letters } = storeWith(
    letter("opening"),
    letter("closing", { kind: "closing", createdAtMs: CREATED + 10, inReplyTo: "<opening@q>" }),
    letter("weekly", { kind: "digest", excursionId: null, createdAtMs: CREATED + 20 }),
  );
  const ids = (fromMs: number, toMs: number) =>
    letters.between(fromMs, toMs).map(({ letter: { id }, deliveries }) => [id, deliveries.length]);
  expect(ids(CREATED, CREATED + 20)).toEqual([
    ["opening", 2],
    ["closing", 2],
  ]);
  expect(ids(CREATED + 20, Infinity)).toEqual([["weekly", 2]]);
  expect(letters.ofExcursion("shed-door-1").map(({ id }) => id)).toEqual(["opening", "closing"]);
});

test("another process queues a letter, and the one that keeps finds it due", () => {
  const folder = temporaryFolder();
  const keep = openedStore(folder);
  const look = openedStore(folder, "Europe/London", "look");
  look.letters.queue(letter("trial", { kind: "trial", excursionId: null }), KEEPERS);
  expect(keep.letters.due(CREATED, 10).map(({ letter: { id } }) => id)).toEqual(["trial", "trial"]);
});
