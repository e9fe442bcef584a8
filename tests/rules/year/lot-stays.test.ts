import { expect, test } from "vitest";
import { entriesThatHold } from "../../../rules/year/journal-view.js";
import { chamberAt, followLot } from "../../../rules/year/lot-stays.js";
import { journalOf } from "./entries.js";

const COUNTS = { large: 80, small: 120 };
const noon = (day: string) => Date.parse(`${day}T12:00:00Z`);
const into = (at: string, toChamberId: string | null, lotId = "hedge") =>
  ({ at, act: { kind: "moved", toChamberId }, lotId }) as const;
const follow = (...entries: Parameters<typeof journalOf>) =>
  followLot("hedge", entriesThatHold(journalOf(...entries)), COUNTS);

test("each move ends one stay and begins the next; out of the cold begins none", () => {
  const { stays, overAtMs } = follow(
    into("2025-11-01", "shed"),
    into("2026-01-10", "barn"),
    into("2026-02-01", null),
    into("2026-02-03", "shed"),
    into("2025-12-01", "barn", "other"),
  );
  expect(stays).toEqual([
    { chamberId: "shed", fromMs: noon("2025-11-01"), toMs: noon("2026-01-10") },
    { chamberId: "barn", fromMs: noon("2026-01-10"), toMs: noon("2026-02-01") },
    { chamberId: "shed", fromMs: noon("2026-02-03"), toMs: null },
  ]);
  expect(overAtMs).toBeNull();
});

test("a move that is written late takes its place in time", () => {
  const { stays } = follow(into("2026-02-01", "barn"), into("2025-11-01", "shed"));
  expect(stays.map(({ chamberId }) => chamberId)).toEqual(["shed", "barn"]);
});

test("a lot is over when its last cocoon is out, or when it is given up", () => {
  const part = { at: "2026-04-01", lotId: "hedge" };
  const males = { ...part, act: { kind: "released", small: 118, large: 0 } } as const;
  const rest = {
    ...part,
    at: "2026-04-05",
    act: { kind: "released", small: 0, large: 70 },
  } as const;
  const opened = {
    ...part,
    at: "2026-03-01",
    act: { kind: "opened", cocoons: 10, parasitised: 1, dead: 0 },
  } as const;
  const spoilt = { ...part, at: "2026-03-02", act: { kind: "lost", cocoons: 2 } } as const;
  const open = follow(into("2025-11-01", "shed"), opened, males, rest);
  expect(open).toMatchObject({ overAtMs: null, opened: 10, releasedSmall: 118, releasedLarge: 70 });
  const over = follow(into("2025-11-01", "shed"), opened, spoilt, males, rest);
  expect(over).toMatchObject({ overAtMs: noon("2026-04-05"), lost: 2 });
  expect(over.stays.at(-1)?.toMs).toBe(noon("2026-04-05"));
  const ended = follow(into("2025-11-01", "shed"), { ...part, act: { kind: "ended" } });
  expect(ended.overAtMs).toBe(noon("2026-04-01"));
  expect(ended.stays[0]!.toMs).toBe(noon("2026-04-01"));
});

test("where a lot was is known for each instant", () => {
  const course = follow(into("2025-11-01", "shed"), into("2026-01-10", null));
  expect(chamberAt(course, noon("2025-11-01") - 1)).toBeNull();
  expect(chamberAt(course, noon("2025-11-01"))).toBe("shed");
  expect(chamberAt(course, noon("2026-01-10"))).toBeNull();
});
