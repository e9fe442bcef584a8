import ICAL from "ical.js";
import { expect, test } from "vitest";
import { dueCalendar } from "../../daemon/due/calendar.js";
import type { Due } from "../../rules/year/due.js";

/*
 * What ical-generator writes is read back by ical.js, another implementation of RFC 5545.
 */

const NOW_MS = Date.UTC(2026, 0, 18, 9, 30);
const SITE = { name: 'Quillmere; "the shed", ünd a backslash \\' };

const DUE: readonly Due[] = [
  {
    kind: "inspect",
    id: "inspect.shed.2026-01-01",
    on: "2026-01-15",
    chamberId: "shed",
    lastOn: null,
  },
  { kind: "damp", id: "damp.shed.2026-01-05", on: "2026-01-20", chamberId: "shed", by: "trend" },
  {
    kind: "weigh",
    id: "weigh.hedge.A.2026-01-01",
    on: "2026-01-31",
    lotId: "hedge",
    label: "A, ä",
  },
  {
    kind: "check",
    id: "check.yard.2026-10-01",
    on: "2026-10-01",
    probeId: "yard",
    isFirst: false,
    isDrifting: false,
  },
];

const textOf = (due = DUE, today = "2026-01-18") =>
  dueCalendar({ due, today }, SITE, "example.org", NOW_MS);

const eventsIn = (text: string) =>
  new ICAL.Component(ICAL.parse(text)).getAllSubcomponents("vevent").map((component) => {
    const event = new ICAL.Event(component);
    const alarm = component.getAllSubcomponents("valarm");
    return { event, component, alarm };
  });

test("the file is a calendar with one whole-day event for each thing", () => {
  const calendar = new ICAL.Component(ICAL.parse(textOf()));
  // RFC 5545, section 3.6: both are required, VERSION is 2.0.
  expect(calendar.getFirstPropertyValue("version")).toBe("2.0");
  expect(calendar.getFirstPropertyValue("prodid")).toMatch(/Drowse/);
  // RFC 7986, section 5.1, with what had to be escaped in it.
  expect(calendar.getFirstPropertyValue("name")).toBe(`${SITE.name}: what is due`);
  const events = eventsIn(textOf());
  expect(events.map(({ event }) => event.startDate.toString())).toEqual([
    "2026-01-18",
    "2026-01-20",
    "2026-01-31",
    "2026-10-01",
  ]);
  // RFC 5545, section 3.6.1: a DATE without an end lasts that day.
  expect(events.every(({ event }) => event.startDate.isDate)).toBe(true);
  expect(events.every(({ event }) => event.duration.toSeconds() === 86_400)).toBe(true);
  expect(events[2]!.event.summary).toBe("Weigh sample A, ä of hedge");
  expect(events[1]!.event.description).toMatch(/drops on the paper.*\n\nTake care: Keep water/s);
});

test("what is late stands on today and says since when", () => {
  const [late, ahead] = eventsIn(textOf());
  expect(late!.event.summary).toBe("Look through the boxes in shed (since 15 January 2026)");
  expect(ahead!.event.summary).toBe("Damp the paper in shed");
});

test("each event has the stamp and the UID that RFC 5545 asks for, no UID twice", () => {
  const events = eventsIn(textOf());
  for (const { component } of events) {
    expect(String(component.getFirstPropertyValue("dtstamp"))).toBe("2026-01-18T09:30:00Z");
    expect(String(component.getFirstPropertyValue("uid"))).toMatch(/^[\w.-]+@example\.org$/);
  }
  expect(new Set(events.map(({ event }) => event.uid)).size).toBe(DUE.length);
});

test("a thing keeps its UID when its day moves, and another site's is another", () => {
  const uidsOf = (text: string) => eventsIn(text).map(({ event }) => event.uid);
  const moved = DUE.map((one) => ({ ...one, on: "2026-02-02" }));
  expect(uidsOf(textOf(moved, "2026-02-10"))).toEqual(uidsOf(textOf()));
  const elsewhere = dueCalendar(
    { due: DUE, today: "2026-01-18" },
    { name: "Elm" },
    "example.org",
    0,
  );
  const both = [...uidsOf(elsewhere), ...uidsOf(textOf())];
  expect(new Set(both).size).toBe(2 * DUE.length);
});

test("an alarm goes on the morning of the day", () => {
  for (const { component, alarm } of eventsIn(textOf())) {
    expect(alarm).toHaveLength(1);
    // RFC 5545, section 3.6.6: a display alarm has an action, a description and a trigger.
    expect(alarm[0]!.getFirstPropertyValue("action")).toBe("DISPLAY");
    expect(alarm[0]!.getFirstPropertyValue("description")).toBe(
      component.getFirstPropertyValue("summary"),
    );
    const trigger = alarm[0]!.getFirstProperty("trigger")!;
    expect(trigger.getParameter("related")).toBe("START");
    expect((trigger.getFirstValue() as ICAL.Duration).toSeconds()).toBe(8 * 3600);
  }
});

test("lines end in CRLF and are no longer than 75 octets", () => {
  // RFC 5545, section 3.1.
  const text = textOf();
  expect(text.replaceAll("\r\n", "")).not.toMatch(/[\r\n]/);
  const lengths = text.split("\r\n").map((line) => Buffer.byteLength(line));
  expect(Math.max(...lengths)).toBeLessThanOrEqual(75);
});

test("with nothing due it is still a calendar", () => {
  const calendar = new ICAL.Component(ICAL.parse(textOf([])));
  expect(calendar.name).toBe("vcalendar");
  expect(calendar.getAllSubcomponents("vevent")).toEqual([]);
});
