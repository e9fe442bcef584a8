import { expect, test } from "vitest";
import type { Finding } from "../../../shared/excursion.js";
import { doorFinding, NOTHING, openedStore, temporaryFolder, utc } from "./temporary-store.js";

const opened = doorFinding();
const raised = doorFinding({
  change: "raised",
  cause: "cooling-lost",
  urgency: "rush",
  atMs: utc("2026-12-01T09:00:00Z"),
  startedAtMs: utc("2026-12-01T07:58:00Z"),
});
const ended = doorFinding({
  change: "ended",
  cause: "cooling-lost",
  urgency: "rush",
  atMs: utc("2026-12-01T10:00:00Z"),
  startedAtMs: utc("2026-12-01T07:58:00Z"),
});

function storeWith(...findings: readonly Finding[]) {
  const store = openedStore(temporaryFolder());
  store.commit({ ...NOTHING, findings }, []);
  return store;
}

test("an excursion is opened, raised and ended by its findings", () => {
  const store = storeWith(opened);
  const { excursions } = store;
  expect(excursions.open()).toEqual([
    {
      id: "shed-door-1",
      chamberId: "shed",
      probeId: "shed-air",
      cause: "door-ajar",
      urgency: "visit",
      startedAtMs: opened.startedAtMs,
      openedAtMs: opened.atMs,
      endedAtMs: null,
      acknowledgedAtMs: null,
      latest: opened,
    },
  ]);
  store.commit({ ...NOTHING, findings: [raised] }, []);
  expect(excursions.get("shed-door-1")).toMatchObject({
    cause: "cooling-lost",
    urgency: "rush",
    startedAtMs: raised.startedAtMs,
    openedAtMs: opened.atMs,
    endedAtMs: null,
    latest: raised,
  });
  store.commit({ ...NOTHING, findings: [ended] }, []);
  expect(excursions.open()).toEqual([]);
  expect(excursions.get("shed-door-1")).toMatchObject({ endedAtMs: ended.atMs, latest: ended });
  expect(excursions.history("shed-door-1")).toEqual([opened, raised, ended]);
  expect(excursions.get("unheard-of")).toBeNull();
});

test("findings told again change nothing, an acknowledgement included", () => {
  const store = storeWith(opened, raised);
  store.excursions.acknowledge("shed-door-1", raised.atMs + 1);
  const before = store.excursions.get("shed-door-1");
  store.commit({ ...NOTHING, findings: [opened, raised] }, []);
  expect(store.excursions.get("shed-door-1")).toEqual(before);
  expect(store.excursions.history("shed-door-1")).toHaveLength(2);
});

test("a finding that comes after a later one is history and no more", () => {
  const store = storeWith(opened, ended);
  const before = store.excursions.get("shed-door-1");
  store.commit({ ...NOTHING, findings: [raised] }, []);
  expect(store.excursions.get("shed-door-1")).toEqual(before);
  expect(store.excursions.history("shed-door-1")).toEqual([opened, raised, ended]);
});

test("an acknowledgement counts once and holds until the urgency rises", () => {
  const store = storeWith(opened);
  const { excursions } = store;
  expect(excursions.acknowledge("shed-door-1", 1_000)).toBe(true);
  expect(excursions.acknowledge("shed-door-1", 2_000)).toBe(false);
  expect(excursions.acknowledge("unheard-of", 2_000)).toBe(false);
  const otherCause = doorFinding({ change: "raised", cause: "warm", atMs: opened.atMs + 1 });
  store.commit({ ...NOTHING, findings: [otherCause] }, []);
  expect(excursions.get("shed-door-1")?.acknowledgedAtMs).toBe(1_000);
  store.commit({ ...NOTHING, findings: [raised] }, []);
  expect(excursions.get("shed-door-1")?.acknowledgedAtMs).toBeNull();
});

test("excursions between two instants are those that overlap them", () => {
  const later = doorFinding({
    excursionId: "shed-door-2",
    startedAtMs: utc("2026-12-02T08:00:00Z"),
    atMs: utc("2026-12-02T08:05:00Z"),
  });
  const { excursions } = storeWith(opened, raised, ended, later);
  const ids = (from: string, to: string) =>
    excursions.between(utc(from), utc(to)).map(({ id }) => id);
  expect(ids("2026-12-01T00:00:00Z", "2026-12-01T07:58:00Z")).toEqual([]);
  expect(ids("2026-12-01T00:00:00Z", "2026-12-01T07:58:01Z")).toEqual(["shed-door-1"]);
  expect(ids("2026-12-01T10:00:00Z", "2026-12-01T11:00:00Z")).toEqual(["shed-door-1"]);
  expect(ids("2026-12-01T10:00:01Z", "2026-12-01T11:00:00Z")).toEqual([]);
  expect(ids("2026-12-09T00:00:00Z", "2026-12-10T00:00:00Z")).toEqual(["shed-door-2"]);
  expect(ids("2026-12-01T09:00:00Z", "2026-12-10T00:00:00Z")).toEqual([
    "shed-door-1",
    "shed-door-2",
  ]);
});

test("ordinary openings and defrosts are told apart from what mattered", () => {
  const opening = (id: string, startedAt: string, change: Partial<Finding> = {}) =>
    doorFinding({
      excursionId: id,
      cause: "opening",
      urgency: "note",
      startedAtMs: utc(startedAt),
      atMs: utc(startedAt) + 60_000,
      ...change,
    });
  const store = storeWith(
    opened,
    opening("o-1", "2026-12-01T06:00:00Z"),
    opening("o-2", "2026-12-02T06:00:00Z"),
    opening("o-elsewhere", "2026-12-01T07:00:00Z", { chamberId: "attic" }),
    opening("d-1", "2026-12-01T07:30:00Z", { cause: "defrost" }),
    // A note of another cause is no part of a fridge's day, nor is an opening worth a visit.
    opening("warm-note", "2026-12-01T09:00:00Z", { cause: "warm" }),
    opening("long", "2026-12-01T10:00:00Z", { urgency: "visit" }),
  );
  const [from, to] = [utc("2026-12-01T00:00:00Z"), utc("2026-12-02T00:00:00Z")];
  expect(store.excursions.ordinary("shed", from, to)).toEqual([
    { atMs: utc("2026-12-01T06:00:00Z"), cause: "opening" },
    { atMs: utc("2026-12-01T07:30:00Z"), cause: "defrost" },
  ]);
  const mattering = store.excursions.mattering(from, to).map(({ id }) => id);
  expect(mattering).toEqual(["shed-door-1", "warm-note", "long"]);
  // What was taken for an opening and then turned out worse is no longer ordinary.
  const worse = { change: "raised", urgency: "rush", cause: "door-ajar" } as const;
  const later = { atMs: utc("2026-12-01T06:20:00Z") };
  store.commit(
    { ...NOTHING, findings: [opening("o-1", "2026-12-01T06:00:00Z", { ...worse, ...later })] },
    [],
  );
  expect(store.excursions.ordinary("shed", from, to)).toHaveLength(1);
  expect(store.excursions.mattering(from, to)).toHaveLength(4);
});
