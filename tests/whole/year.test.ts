import { writeFileSync } from "node:fs";
import { join } from "node:path";
import ICAL from "ical.js";
import { expect, test } from "vitest";
import { openStore, type Store } from "../../daemon/store/store.js";
import { DAY_MS, HOUR_MS } from "../../shared/time.js";
import { openRehearsal } from "./year-rehearsal.js";
import { AUTUMN_MS, liveYear } from "./year-station.js";

/** Ten in the morning of a day in Quillmere. */
const morning = (day: string) => Date.parse(`${day}T10:00:00Z`);
const lastNight = (day: string, hours: number) => {
  const startMs = morning(day) - 14 * HOUR_MS;
  return { startMs, endMs: startMs + hours * HOUR_MS };
};

/** Look into the store beside the process that keeps. */
function lookInto<T>(folder: string, look: (store: Store) => T): T {
  const store = openStore(join(folder, "state"), { timezone: "Europe/London" }, { mode: "look" });
  try {
    return look(store);
  } finally {
    store.close();
  }
}

type Due = Readonly<{ id: string; on: string; deed: string; isLate: boolean }>;

test("a keeper's year, from the first cocoon in the cold to the last bee out", async () => {
  const { folder, errors, liveUntil, restart, type, ask, stop } = await openRehearsal(
    liveYear([{ kind: "compressor-dead", ...lastNight("2026-01-12", 14) }]),
  );
  const json = async (...args: string[]) => {
    const lines = (await type(...args, "--json")).trim().split("\n").filter(Boolean);
    return lines.map((line) => JSON.parse(line));
  };
  const due = async (): Promise<Due[]> => (await json("due"))[0].due;
  const dueIds = async () => (await due()).map(({ id }) => id);
  const release = async () => (await json("due"))[0].release;
  const lot = async (id: string) => (await json("lot", "show", id))[0];

  // October. The harvest is in; nothing is in the cold yet, and nothing is due for it.
  await liveUntil(morning("2025-10-20"));
  expect((await due()).filter(({ id }) => !id.startsWith("check"))).toEqual([]);
  writeFileSync(
    join(folder, "lots.csv"),
    "lot,species,large,small,harvested,warm_days,chamber,in\r\n" +
      "hedge,osmia-bicornis,80,120,2025-10-04,18,shed,2025-10-20 09:00\r\n" +
      "plum,osmia-bicornis,40,50,2025-10-04,,,\r\n",
  );
  await type("lot", "add", "--from-csv", "lots.csv");
  await type("lot", "weigh", "hedge", "--mass-g", "3.20", "--cocoons", "30");
  expect(await dueIds()).toEqual(
    expect.arrayContaining(["inspect.shed.2025-10-20", "damp.shed.2025-10-20"]),
  );

  // November. The second lot comes late, and Drowse says so.
  await liveUntil(morning("2025-11-20"));
  await type("lot", "change", "plum", "--warm-days", "40");
  await type("lot", "move", "plum", "--to", "shed");
  expect((await lot("plum")).remarks).toContainEqual(
    expect.objectContaining({ kind: "came-late", warmDays: 40 }),
  );
  const late = (await due()).filter(({ isLate }) => isLate).map(({ deed }) => deed);
  expect(late).toContain("Look through the boxes in shed");
  expect(await type("digest")).toMatch(/Look through the boxes in shed/);

  // December. By the page: looked through and damped; a deed of last week is written late, and
  // wrongly, and corrected.
  await liveUntil(morning("2025-12-05"));
  await ask("/journal/write/inspected", { chamber: "shed", "saw-nothing": "yes" });
  await ask("/journal/write/damped", { chamber: "shed", on: "2025-12-05T09:30" });
  await type("tend", "damped", "shed", "--on", "2025-11-28");
  await type("tend", "aired", "shed", "--on", "2025-11-28", "--corrects", "6");
  expect(await dueIds()).toEqual(expect.arrayContaining(["inspect.shed.2025-12-05"]));
  expect(await type("tend")).toMatch(/^6 .*damped +corrected by 7$/m);

  // January. The board is started anew, the compressor stops for a night, and the lots that were
  // in the shed paid for it; the hedge is carried to the loft.
  await liveUntil(morning("2026-01-10"));
  await restart();
  await liveUntil(morning("2026-01-13"));
  const night = lookInto(folder, (store) =>
    store.letters.between(morning("2026-01-11"), morning("2026-01-13")),
  );
  expect(night.map(({ letter }) => letter.subject)).toContainEqual(
    expect.stringMatching(/cool.*shed/i),
  );
  // The judge knows of the damping of December, and not of the one that was none.
  const judged = lookInto(folder, (store) => JSON.parse(store.judge.load()!.state));
  expect(judged.chambers[0].tended.damped).toEqual([Date.parse("2025-12-05T09:30:00Z")]);
  const paid = await lot("hedge");
  expect(paid.worstExcursion).toMatch(/^shed\./);
  expect(paid.season.degreeHoursAbove).toBeGreaterThan(5);
  await type("lot", "move", "hedge", "--to", "loft");

  // A warm spell. Five days at 14.5 °C would let bees out that go by the thermometer alone.
  await liveUntil(morning("2026-01-24"));
  const january = await release();
  expect(january.word).toBe("hold");
  expect(
    january.lots.every(
      ({ verdict }: { verdict: { isFalseSpring: boolean } }) => verdict.isFalseSpring,
    ),
  ).toBe(true);
  expect(await type("due")).toMatch(/a warm spell is no spring[\s\S]*No bloom was written/);

  // February. Weighed again, a sample opened; the shed's figures are no longer the hedge's.
  await liveUntil(morning("2026-02-20"));
  await type("lot", "weigh", "hedge", "--mass-g", "3.08");
  await type("lot", "open", "hedge", "--cocoons", "20", "--parasitised", "2");
  const hedge = await lot("hedge");
  expect(hedge.samples[0].loss).toMatchObject({ weighings: 2, isSeen: true });
  expect(hedge.parasitised.share).toBe(0.1);
  expect(hedge.stays.map(({ chamber }: { chamber: string }) => chamber)).toEqual(["shed", "loft"]);
  expect(hedge.season.chillDays).toBeGreaterThan(115);
  const plum = await lot("plum");
  expect(plum.season.reserveDays).toBeLessThan(hedge.season.reserveDays);

  // Spring. Bloom is seen, three days are warm, and the hedge, longest in the cold, goes first.
  await liveUntil(morning("2026-03-28"));
  await ask("/journal/write/bloom", { words: "plum at the gate" });
  expect((await release()).word).toBe("soon");
  await liveUntil(morning("2026-04-01"));
  const spring = await release();
  expect(spring.word).toBe("ready");
  const stages = spring.stages.map(
    ({ on, lotId, size }: { on: string; lotId: string; size: string }) => `${on} ${lotId} ${size}`,
  );
  expect(stages).toEqual([
    "2026-03-31 hedge small",
    "2026-04-04 hedge large",
    "2026-04-07 plum small",
    "2026-04-11 plum large",
  ]);
  const address = /\/calendar\/[0-9a-f]{32}\/due\.ics/.exec((await ask("/due")).text)![0];
  const calendar = new ICAL.Component(ICAL.parse((await ask(address)).text));
  const summaries = calendar
    .getAllSubcomponents("vevent")
    .map((event) => String(event.getFirstPropertyValue("summary")));
  expect(summaries).toContain("Put out the 80 large cocoons of hedge");

  // April. Males, then females; then the other lot. At the end nothing is left, and nothing due.
  await type("lot", "release", "hedge", "--small", "120");
  await liveUntil(morning("2026-04-05"));
  expect(await dueIds()).toContain("release.hedge.large");
  await type("lot", "release", "hedge");
  await liveUntil(morning("2026-04-15"));
  expect((await lot("plum")).latestOn > "2026-05-01").toBe(true);
  await type("lot", "release", "plum");
  await liveUntil(AUTUMN_MS + 240 * DAY_MS);
  expect(await json("lot")).toEqual([]);
  expect((await due()).filter(({ id }) => !id.startsWith("check"))).toEqual([]);

  // May. All of it goes out as CSV; the watch had nothing to complain of.
  const journal = await json("tend");
  const csv = (await type("tend", "--csv")).trim().split("\r\n");
  expect(csv).toHaveLength(journal.length + 1);
  await stop();
  expect(errors).toEqual([]);
}, 600_000);
