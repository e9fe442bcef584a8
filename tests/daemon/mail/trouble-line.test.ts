import { expect, test } from "vitest";
import { openTrouble } from "../../../daemon/mail/mail-trouble.js";
import { troubleLine } from "../../../daemon/mail/trouble-line.js";
import { HOUR_MS, MINUTE_MS } from "../../../shared/time.js";
import { ANN, BO, CLOSING, OPENING, openHouse } from "./house.js";

const silent = { info: () => {}, warn: () => {}, error: () => {} };

test("nothing is said while all mail passes", () => {
  const { store, time } = openHouse();
  store.letters.queue(OPENING, [ANN]);
  store.letters.sent(OPENING.id, ANN, time.clock.nowMs());
  expect(troubleLine(store, time.clock.nowMs(), "Europe/London")).toBeNull();
});

test("a dead server is said while it lasts and once when it is over", () => {
  const { store, time } = openHouse();
  const trouble = openTrouble(store, time.clock, silent);
  const line = () => troubleLine(store, time.clock.nowMs(), "Europe/London");
  store.letters.queue(OPENING, [ANN]);
  trouble.begin("MAIL_UNREACHABLE: smtp.example.org:587: no route");
  time.pass(HOUR_MS);
  trouble.begin("MAIL_UNREACHABLE: smtp.example.org:587: no route");
  expect(line()).toMatch(/since 03:15 on Sunday 11 January \(.*smtp\.example\.org:587: no route\)/);
  trouble.end();
  expect(line()).toBe(
    "From 03:15 on Sunday 11 January to 04:15 on Sunday 11 January no letter could be handed over, so some came late.",
  );
  const told = { ...CLOSING, createdAtMs: time.clock.nowMs() + MINUTE_MS };
  store.letters.queue(told, [ANN]);
  time.pass(HOUR_MS);
  expect(line()).toBeNull();
});

test("trouble outlives a restart, and its beginning with it", () => {
  const { store, time } = openHouse();
  openTrouble(store, time.clock, silent).begin("no route");
  time.pass(HOUR_MS);
  const again = openTrouble(store, time.clock, silent);
  expect(again.isDown()).toBe(true);
  expect(again.end()).toBe(true);
  expect(again.end()).toBe(false);
});

test("a keeper who could not be reached is named to the others in the next letter, once", () => {
  const { store, time } = openHouse();
  store.letters.queue(OPENING, [ANN, BO]);
  const nowMs = time.clock.nowMs();
  store.letters.sent(OPENING.id, ANN, nowMs);
  store.letters.failed(OPENING.id, BO, nowMs, nowMs, "MAIL_REFUSED: 550 no such mailbox", true);
  time.pass(HOUR_MS);
  const line = () => troubleLine(store, time.clock.nowMs(), "Europe/London");
  expect(line()).toBe(
    "1 letter to bo@example.org could not be delivered (MAIL_REFUSED: 550 no such mailbox).",
  );
  store.letters.queue({ ...CLOSING, createdAtMs: time.clock.nowMs() }, [ANN]);
  time.pass(HOUR_MS);
  expect(line()).toBeNull();
});
