import { expect, test } from "vitest";
import { TROUBLE_KEY } from "../../../daemon/mail/mail-trouble.js";
import { troubleLine } from "../../../daemon/mail/trouble-line.js";
import { HOUR_MS, MINUTE_MS } from "../../../shared/time.js";
import { ANN, BO, CLOSING, OPENING, openHouse, serverOf } from "./house.js";
import { answer, openInbox } from "./inbox.js";
import { until } from "./told-time.js";

test("a letter reaches every keeper over STARTTLS, in a transaction of its own", async () => {
  const inbox = await openInbox();
  const house = openHouse();
  house.store.letters.queue(OPENING, [ANN, BO]);
  house.start(serverOf(inbox));
  await until("both have it", () => inbox.arrived.length === 2);
  expect(inbox.arrived.map(({ keeper }) => keeper).sort()).toEqual([ANN, BO]);
  expect(inbox.arrived.every(({ secure }) => secure)).toBe(true);
  await until("nothing is due", () => house.store.letters.nextDueAtMs() === null);
  expect(house.store.letters.undelivered()).toEqual([]);
  await inbox.close();
});

test("a login goes over TLS from the first byte, and only then", async () => {
  const inbox = await openInbox({
    secure: true,
    authOptional: false,
    onAuth: ({ username, password }, _session, done) =>
      password === "sesame" ? done(null, { user: username }) : done(answer(535, "wrong")),
  });
  const house = openHouse();
  house.store.letters.queue(OPENING, [ANN]);
  house.start(serverOf(inbox, { security: "tls", user: "drowse", password: "sesame" }));
  await until("it came", () => inbox.arrived.length === 1);
  expect(inbox.arrived[0]).toMatchObject({ secure: true, user: "drowse" });
  await inbox.close();
});

test("no letter and no login go to a server that offers no STARTTLS where it is asked for", async () => {
  let asked = 0;
  const inbox = await openInbox({
    hideSTARTTLS: true,
    disabledCommands: ["STARTTLS"],
    onAuth: (_auth, _session, done) => {
      asked += 1;
      done(null, { user: "drowse" });
    },
  });
  const house = openHouse();
  house.store.letters.queue(OPENING, [ANN]);
  house.start(serverOf(inbox, { user: "drowse", password: "sesame" }));
  await until(
    "trouble is noted",
    () => house.store.board.read(TROUBLE_KEY)?.includes("MAIL_UNREACHABLE") ?? false,
  );
  expect(inbox.arrived).toEqual([]);
  expect(asked).toBe(0);
  await inbox.close();
});

test("a certificate that nobody vouches for is not trusted", async () => {
  const inbox = await openInbox();
  const house = openHouse();
  house.store.letters.queue(OPENING, [ANN]);
  house.start(serverOf(inbox, { ca: null }));
  await until(
    "trouble is noted",
    () => house.store.board.read(TROUBLE_KEY)?.includes("certificate") ?? false,
  );
  expect(inbox.arrived).toEqual([]);
  await inbox.close();
});

test("one keeper refused holds up no other, and is given up after tries spread over hours", async () => {
  let refusals = 0;
  const inbox = await openInbox({
    onRcptTo: ({ address }, _session, done) => {
      if (address !== BO) return done();
      refusals += 1;
      done(answer(550, "5.1.1 no such mailbox"));
    },
  });
  const house = openHouse();
  const startedMs = house.time.clock.nowMs();
  house.store.letters.queue(OPENING, [BO, ANN]);
  house.start(serverOf(inbox));
  await until("ann has it", () => inbox.arrived.length === 1);
  for (let tries = 1; tries < 4; tries++) {
    await until(`try ${tries} was refused`, () => refusals === tries && house.isAtRest());
    house.time.pass(house.store.letters.nextDueAtMs()! - house.time.clock.nowMs());
  }
  const given = () => house.store.letters.undelivered()[0]?.givenUpAtMs ?? null;
  await until("it is given up", () => given() !== null);
  // Our choice: refusals are tried again after 15 minutes, 1 hour and 4 hours.
  expect(given()! - startedMs).toBe(5 * HOUR_MS + 15 * MINUTE_MS);
  expect(house.store.letters.undelivered()[0]).toMatchObject({ keeper: BO, attempts: 4 });
  expect(house.said.map(({ message }) => message)).toContain("letter given up");
  expect(house.store.board.read(TROUBLE_KEY) ?? "").toBe("");
  await inbox.close();
});

test("a letter put off by greylisting is taken at the second try, with the same Message-ID", async () => {
  const offered: string[] = [];
  const inbox = await openInbox({
    onRcptTo: ({ address }, _session, done) => {
      offered.push(address);
      // RFC 6647 section 2.3: greylisting answers 450 or 451 to a sender not met before.
      done(offered.length === 1 ? answer(450, "4.7.1 greylisted, try again later") : null);
    },
  });
  const house = openHouse();
  house.store.letters.queue(OPENING, [ANN]);
  house.start(serverOf(inbox));
  await until("it was put off", () => house.isAtRest() && offered.length === 1);
  expect(house.store.letters.undelivered()[0]?.lastError).toMatch(/^MAIL_PUT_OFF: .*greylisted/);
  house.time.pass(MINUTE_MS);
  await until("it was taken", () => inbox.arrived.length === 1);
  expect(inbox.arrived[0]!.mail.messageId).toBe(OPENING.messageId);
  await inbox.close();
});

test("a server that goes silent in the midst of DATA is left after a while, and gets the same letter again", async () => {
  let stalls = 0;
  const ids: string[] = [];
  const inbox = await openInbox({
    onData: (stream, _session, done) => {
      stalls += 1;
      let text = "";
      stream.on("data", (chunk: Buffer) => {
        text += chunk.toString("utf8");
      });
      stream.on("end", () => {
        ids.push(/^Message-ID:\s*(<[^>]+>)/im.exec(text)?.[1] ?? "");
        if (stalls > 1) done();
      });
    },
  });
  const house = openHouse();
  house.store.letters.queue(OPENING, [ANN]);
  house.start(serverOf(inbox));
  await until("the server has it and says nothing", () => ids.length === 1);
  expect(house.store.letters.undelivered()[0]?.attempts).toBe(0);
  house.time.pass(3 * MINUTE_MS);
  await until("the try was given up", () => house.store.letters.undelivered()[0]?.attempts === 1);
  expect(house.store.letters.undelivered()[0]?.lastError).toContain("no answer within 3 minutes");
  await until("the turn is over", house.isAtRest);
  house.time.pass(MINUTE_MS);
  await until("it is tried again", () => ids.length === 2);
  await until("it is taken", () => house.store.letters.undelivered().length === 0);
  expect(ids).toEqual([OPENING.messageId, OPENING.messageId]);
  await inbox.close();
});

test("a server that is down for three days gets every letter once, and the keeper is told why late", async () => {
  const first = await openInbox();
  const { port } = first;
  await first.close();
  const house = openHouse();
  house.store.letters.queue(OPENING, [ANN]);
  house.start(serverOf(first));
  await until("the first try is over", house.isAtRest);
  const startedMs = house.time.clock.nowMs();
  let turns = 0;
  while (house.time.clock.nowMs() - startedMs < 72 * HOUR_MS) {
    // As the outbox itself would be woken; it looks each minute whether something is due.
    house.time.pass(30 * MINUTE_MS);
    turns += 1;
    await until(`turn ${turns} is over`, house.isAtRest);
  }
  expect(house.said.filter(({ level }) => level === "error")).toHaveLength(1);
  const [waiting] = house.store.letters.undelivered();
  expect(waiting).toMatchObject({ keeper: ANN, givenUpAtMs: null });
  // 1, 2, 4 … minutes and then each two hours: RFC 5321, section 4.5.4.1, asks for patience.
  expect(waiting!.attempts).toBeLessThan(50);

  const back = await openInbox({}, port);
  house.time.pass(2 * HOUR_MS);
  await until("it came", () => back.arrived.length === 1);
  await until("the turn is over", house.isAtRest);
  house.time.pass(2 * HOUR_MS);
  await until("the next turn is over", house.isAtRest);
  expect(back.arrived.map(({ mail }) => mail.messageId)).toEqual([OPENING.messageId]);
  const line = troubleLine(house.store, house.time.clock.nowMs(), "Europe/London");
  expect(line).toMatch(/no letter could be handed over, so some came late/);
  await back.close();
});

test("a dead server is said once, then all letters go at once when it is back", async () => {
  const first = await openInbox();
  const { port } = first;
  await first.close();
  const house = openHouse();
  house.store.letters.queue(OPENING, [ANN, BO]);
  const outbox = house.start(serverOf(first));
  for (let turns = 1; turns <= 4; turns++) {
    await until(`turn ${turns} is over`, house.isAtRest);
    house.time.pass(MINUTE_MS);
  }
  await until("the turn is over", house.isAtRest);
  const errors = house.said.filter(({ level }) => level === "error");
  expect(errors).toHaveLength(1);
  expect(house.store.board.read(TROUBLE_KEY)).toMatch(
    /^2026-01-11T03:15:0\S+ MAIL_UNREACHABLE: 127/,
  );

  const back = await openInbox({}, port);
  const nowMs = house.time.clock.nowMs();
  const waits = house.store.letters.undelivered().map(({ nextTryAtMs }) => nextTryAtMs - nowMs);
  expect(Math.max(...waits)).toBeGreaterThan(0);
  house.store.letters.queue(CLOSING, [ANN]);
  outbox.wake();
  await until("all have come, though no time has passed", () => back.arrived.length === 3);
  await until("the turn is over", house.isAtRest);
  expect(back.arrived.map(({ keeper }) => keeper).sort()).toEqual([ANN, ANN, BO]);
  expect(house.store.board.read(TROUBLE_KEY)).toBe("");
  expect(house.said.at(-1)?.message).toBe("letters can be handed over again");
  await back.close();
});

test("a crash between sending and marking sends the same Message-ID again", async () => {
  const inbox = await openInbox();
  const house = openHouse();
  house.store.letters.queue(OPENING, [ANN]);
  const dying = {
    ...house.store,
    letters: {
      ...house.store.letters,
      sent: () => {
        throw new Error("the power went");
      },
    },
  };
  let broken: unknown = null;
  house.start(serverOf(inbox), { store: dying, onBroken: (error) => (broken = error) });
  await until("the power went", () => broken !== null);
  house.start(serverOf(inbox));
  await until("it came again", () => inbox.arrived.length === 2);
  const ids = inbox.arrived.map(({ mail }) => mail.messageId);
  expect(ids).toEqual([OPENING.messageId, OPENING.messageId]);
  await inbox.close();
});

test("closing leaves a letter under way due, and ends within its grace", async () => {
  let stalls = 0;
  const inbox = await openInbox({
    onData: (stream) => {
      stalls += 1;
      stream.resume();
    },
  });
  const house = openHouse();
  house.store.letters.queue(OPENING, [ANN]);
  const outbox = house.start(serverOf(inbox));
  await until("the server has it", () => stalls === 1);
  const closed = outbox.close();
  house.time.pass(5_000);
  await closed;
  expect(house.store.letters.due(house.time.clock.nowMs(), 9)).toHaveLength(1);
  expect(house.store.letters.undelivered()[0]).toMatchObject({ attempts: 0, lastError: null });
  await inbox.close();
});

test("a letter that cannot be sent for five days is given up, and the log says so", async () => {
  const gone = await openInbox();
  await gone.close();
  const house = openHouse();
  house.store.letters.queue(OPENING, [ANN, BO]);
  house.start(serverOf(gone));
  await until("the first try is over", house.isAtRest);
  // RFC 5321 section 4.5.4.1: the give-up time generally needs to be at least 4 to 5 days.
  house.time.pass(5 * 24 * HOUR_MS);
  await until("both are given up", () =>
    house.store.letters.undelivered().every(({ givenUpAtMs }) => givenUpAtMs !== null),
  );
  expect(house.said.filter(({ message }) => message === "letter given up")).toHaveLength(2);
});

test("the password is in no error, note or log, even when the server repeats it", async () => {
  const secret = "Sesam, öffne dich";
  const inbox = await openInbox({
    onAuth: ({ password }, _session, done) =>
      done(answer(535, `bad login ${password} ${Buffer.from(password ?? "").toString("base64")}`)),
  });
  const house = openHouse();
  house.store.letters.queue(OPENING, [ANN]);
  house.start(serverOf(inbox, { user: "drowse", password: secret }));
  await until("trouble is noted", () => (house.store.board.read(TROUBLE_KEY) ?? "") !== "");
  const told = JSON.stringify([
    house.said,
    house.store.letters.undelivered(),
    house.store.board.read(TROUBLE_KEY),
  ]);
  expect(told).toContain("bad login");
  expect(told).not.toContain("Sesam");
  expect(told).not.toContain(Buffer.from(secret).toString("base64"));
  await inbox.close();
});

test("the loop turns each minute though nothing is due", async () => {
  const house = openHouse();
  const outbox = house.start(null);
  await until("the first turn is over", house.isAtRest);
  const before = outbox.lastTurnMs();
  house.time.pass(MINUTE_MS);
  await until("it has turned", () => outbox.lastTurnMs() > before);
});
