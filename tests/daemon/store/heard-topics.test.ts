import { expect, test } from "vitest";
import { HEARD_TOPICS, OTHER_TOPICS } from "../../../daemon/store/heard-topics.js";
import type { Heard, Store } from "../../../daemon/store/store.js";
import { DAY_MS } from "../../../shared/time.js";
import { NOTHING, openedStore, temporaryFolder, utc } from "./temporary-store.js";

const NOON = utc("2026-12-01T12:00:00Z");
const heard = (topic: string, change: Partial<Heard> = {}): Heard => ({
  topic,
  probeId: null,
  outcome: "unclaimed",
  count: 1,
  lastAtMs: NOON,
  sample: "21.5",
  detail: null,
  ...change,
});

const tell = (store: Store, ...all: readonly Heard[]) =>
  store.commit({ ...NOTHING, heard: all }, []);

test("counts add up for each topic, probe and outcome", () => {
  const store = openedStore(temporaryFolder());
  const claimed = { probeId: "shed-air", outcome: "reading" } as const;
  tell(store, heard("quillmere/shed/air", { ...claimed, count: 30 }));
  tell(store, heard("quillmere/shed/air", { outcome: "not-json", detail: "at byte 3" }));
  tell(store, heard("quillmere/shed/air", { ...claimed, count: 2, lastAtMs: NOON + 5 }));
  tell(store, heard("quillmere/shed/air", { ...claimed, lastAtMs: NOON, sample: "2.5" }));
  expect(store.heard.list()).toEqual([
    heard("quillmere/shed/air", { outcome: "not-json", detail: "at byte 3" }),
    heard("quillmere/shed/air", { ...claimed, count: 33, lastAtMs: NOON + 5, sample: "2.5" }),
  ]);
});

const crowd = Array.from({ length: HEARD_TOPICS }, (_, i) => heard(`crowd/${i}`));

test("topics beyond the bound are counted together, and none is lost from the count", () => {
  const store = openedStore(temporaryFolder());
  tell(store, ...crowd, heard("one-more"), heard("two-more", { count: 4 }), heard("crowd/7"));
  const list = store.heard.list();
  expect(list).toHaveLength(HEARD_TOPICS + 1);
  expect(list.at(-1)).toMatchObject({ topic: OTHER_TOPICS, probeId: null, count: 5 });
  expect(list.find(({ topic }) => topic === "crowd/7")?.count).toBe(2);
  expect(list.reduce((sum, { count }) => sum + count, 0)).toBe(HEARD_TOPICS + 6);
});

test("a topic silent for a day makes way for a new one", () => {
  const store = openedStore(temporaryFolder());
  tell(store, ...crowd.slice(1), heard("old", { lastAtMs: NOON - 5, count: 3 }));
  tell(store, heard("new-sensor", { lastAtMs: NOON + DAY_MS - 5 }));
  const list = store.heard.list();
  expect(list.map(({ topic }) => topic)).toContain("new-sensor");
  expect(list.map(({ topic }) => topic)).not.toContain("old");
  expect(list.at(-1)).toMatchObject({ topic: OTHER_TOPICS, count: 3 });
});

test("overlong topics and samples take no more room than others", () => {
  const store = openedStore(temporaryFolder());
  tell(store, heard("x".repeat(60_000)), heard("short", { sample: "y".repeat(5_000) }));
  expect(store.heard.list().map(({ topic, sample }) => [topic, sample.length])).toEqual([
    ["short", 200],
    [OTHER_TOPICS, 4],
  ]);
});

test("board facts are noted alone or with a batch, and read by others", () => {
  const folder = temporaryFolder();
  const store = openedStore(folder);
  expect(store.board.read("mail-trouble")).toBeNull();
  store.board.note("mail-trouble", "refused");
  store.commit({ ...NOTHING, facts: { "alive-at": "1", "mail-trouble": "" } }, []);
  const look = openedStore(folder, "Europe/London", "look");
  expect(look.board.read("mail-trouble")).toBe("");
  expect(look.board.read("alive-at")).toBe("1");
});
