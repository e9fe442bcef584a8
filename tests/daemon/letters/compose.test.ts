import { expect, test } from "vitest";
import { composeLetter, composeReminder, composeTrial } from "../../../daemon/letters/compose.js";
import { CAUSES, type Finding } from "../../../shared/excursion.js";
import { HOUR_MS, MINUTE_MS } from "../../../shared/time.js";
import { CONTEXT, excursionOf, finding, NIGHT_MS } from "./quillmere.js";
import { visibleText } from "./visible-text.js";

const opening = composeLetter(finding(), CONTEXT)!;
const firstLine = (letter: { text: string }): string => letter.text.split("\n")[0]!;

/** Verbs that may begin an instruction. */
const DEEDS = /^(Shut|Keep|Leave|Move|Find|Turn|Air|Damp|Dry|Look|Check|See|Set) /;

/** Every letter there is about cocoons and probes: each cause, ongoing, over and reminded. */
const ALL = CAUSES.flatMap((cause) =>
  (["visit", "rush"] as const).flatMap((urgency) => {
    const open: Finding = finding({ cause, urgency });
    const first = composeLetter(open, CONTEXT)!;
    const context = { ...CONTEXT, earlier: [first] };
    return [
      first,
      composeLetter({ ...open, change: "raised", atMs: NIGHT_MS + MINUTE_MS }, context)!,
      composeLetter({ ...open, change: "ended", atMs: NIGHT_MS + HOUR_MS }, context)!,
      composeReminder(excursionOf(open), { cocoonC: 3, airC: 8 }, NIGHT_MS + HOUR_MS, context),
    ];
  }),
);

test("every letter's first line is an instruction and ends with the place", () => {
  for (const letter of ALL) {
    expect(firstLine(letter), letter.id).toMatch(DEEDS);
    expect(firstLine(letter)).toMatch(/: (shed|shed-air in shed)\.$/);
  }
  expect(firstLine(composeTrial(NIGHT_MS, CONTEXT))).toMatch(DEEDS);
});

test("no letter shouts, in subject, text or HTML", () => {
  for (const letter of [...ALL, composeTrial(NIGHT_MS, CONTEXT)]) {
    const shown = `${letter.subject}${letter.text}${visibleText(letter.html)}`;
    expect(shown, letter.id).not.toContain("!");
    expect(letter.subject).not.toMatch(/\b[A-Z]{4,}\b/);
  }
});

test("both bodies say the same", () => {
  const words = (text: string): string[] =>
    text
      .replace(/^-- $|^\d+\. |^- |[()]/gm, "")
      .split(/[\s\u00a0]+/)
      .filter(Boolean);
  for (const letter of ALL)
    expect(words(visibleText(letter.html)).sort(), letter.id).toEqual(
      // The place, direction and urgency stand above the deed in HTML only.
      [...words(letter.text), ...words(asideOf(letter.html))].sort(),
    );
});

const asideOf = (html: string): string =>
  visibleText(html.match(/<p class="[^"]*"[^>]*>.*?<\/p>/)![0]);

test("the opening letter tells what happened, since when, how it stands and how long there is", () => {
  expect(opening.subject).toBe("Shut the fridge door: shed");
  expect(firstLine(opening)).toBe("Shut the fridge door now: shed.");
  expect(opening.text).toContain("at about 03:09 on Sunday 11 January, 6 minutes before");
  expect(opening.text).toMatch(/Cocoons +2\.6 °C \(in their band of 1\.1 to 3\.3 °C\)/);
  expect(opening.text).toContain(
    "it is between 10 and 25 minutes until the cocoons reach 3.3 °C, and between 2¼ and 5½ hours until they reach 10 °C",
  );
  expect(opening.text).toContain("Compared with: ordinary openings here");
  expect(opening.text).toContain("drowse now --acknowledge");
});

test("what was measured nowhere is not said, and a limit already passed is not forecast", () => {
  const letter = composeLetter(
    finding({ cocoonC: 4.2, airC: null, humidityPct: null, cause: "cooling-lost" }),
    CONTEXT,
  )!;
  expect(letter.text).not.toMatch(/^ {2}(Air|Humidity)/m);
  expect(letter.text).not.toContain("reach 3.3 °C");
  expect(letter.text).toContain("until the cocoons reach 10 °C");
  expect(letter.text).toContain("above their band");
});

test("cocoons that no box probe measures are said to be reckoned", () => {
  const probes = CONTEXT.site.probes.filter(({ place }) => place !== "box");
  const site = { ...CONTEXT.site, probes };
  expect(composeLetter(finding(), { ...CONTEXT, site })!.text).toContain("reckoned from the air");
  expect(opening.text).not.toContain("reckoned from the air");
});

test("the keeper's unit is used throughout, in the judge's clauses as well", () => {
  const letter = composeLetter(
    finding({ comparedWith: "the band of 1.1 to 3.3 °C, passed by 2.0 K, and \u22121.5 °C" }),
    { ...CONTEXT, temperatureUnit: "F" },
  )!;
  // 1.1, 3.3 and −1.5 °C are 33.98, 37.94 and 29.3 °F; 2.0 K is 3.6 °F: by definition of °F.
  expect(letter.text).toContain("the band of 34 to 37.9 °F, passed by 3.6 °F, and 29.3 °F");
  expect(letter.text).not.toContain("°C");
  expect(visibleText(letter.html)).not.toContain("°C");
});

test("times are the site's, and an hour lived through twice names its zone", () => {
  const site = { ...CONTEXT.site, timezone: "Europe/Berlin" };
  expect(composeLetter(finding(), { ...CONTEXT, site })!.text).toContain("04:09 on Sunday");
  // British summer time ended on 25 October 2026 at 01:00 UTC (Summer Time Order 2002, S.I. 262).
  const [first, second] = [0, 1].map(
    (hour) => composeTrial(Date.UTC(2026, 9, 25, hour, 30), CONTEXT).text.match(/01:30 \S+/)?.[0],
  );
  expect(first).toBe("01:30 BST");
  expect(second).toBe("01:30 GMT");
});

test("a note asks for no letter, nor does the end of what had none", () => {
  expect(composeLetter(finding({ urgency: "note" }), CONTEXT)).toBeNull();
  expect(composeLetter(finding({ change: "ended" }), CONTEXT)).toBeNull();
});

test("what is first raised to a letter opens the thread", () => {
  const raised = composeLetter(finding({ change: "raised" }), CONTEXT)!;
  expect(raised).toMatchObject({ kind: "opening", inReplyTo: null });
});

test("later letters of an excursion answer the first, whatever came between", () => {
  const raised = composeLetter(finding({ change: "raised", atMs: NIGHT_MS + 1 }), {
    ...CONTEXT,
    earlier: [opening],
  })!;
  const ended = composeLetter(finding({ change: "ended", urgency: "note" }), {
    ...CONTEXT,
    earlier: [opening, raised],
  })!;
  expect(raised).toMatchObject({ kind: "raised", inReplyTo: opening.messageId });
  expect(ended).toMatchObject({ kind: "closing", inReplyTo: opening.messageId });
  expect(new Set([opening, raised, ended].map(({ messageId }) => messageId)).size).toBe(3);
});

test("the same finding composed again is the same letter", () => {
  expect(composeLetter(finding(), CONTEXT)).toEqual(opening);
});

test("a closing letter says how long it lasted and what it took", () => {
  const ended = finding({
    change: "ended",
    atMs: NIGHT_MS + 2 * HOUR_MS,
    cocoonSpanC: { low: 2.3, high: 6.2 },
    cost: {
      degreeHoursAbove: 3.4,
      degreeHoursBelow: 0,
      reserveDays: 0.24,
      wetHours: null,
      mouldIndex: null,
    },
  });
  const { text } = composeLetter(ended, { ...CONTEXT, earlier: [opening] })!;
  expect(text).toContain("from 03:09 to 05:15 on Sunday 11 January: 2 hours 6 minutes.");
  expect(text).toMatch(/Warmest cocoons +6\.2 °C/);
  expect(text).toMatch(/Above the band +3\.4 °C·h/);
  expect(text).toMatch(/Reserve used +about 0\.2 days \(.*reckoned, not measured\)/);
  expect(text).not.toContain("Below the band");
});

test("a reminder counts itself and brings the forecast nearer by the time gone", () => {
  const half = NIGHT_MS + 30 * MINUTE_MS;
  const first = composeReminder(excursionOf(finding()), { cocoonC: 3.4, airC: 9 }, half, {
    ...CONTEXT,
    earlier: [opening],
  });
  expect(first.subject).toBe("Shut the fridge door (reminder 1): shed");
  expect(first.inReplyTo).toBe(opening.messageId);
  // 143 to 310 minutes, half an hour later, are 113 to 280: rounded outwards.
  expect(first.text).toContain("between 1¾ and 5 hours until the cocoons reach 10 °C");
  const second = composeReminder(excursionOf(finding()), { cocoonC: 3.4, airC: 9 }, half + 1, {
    ...CONTEXT,
    earlier: [opening, first],
  });
  expect(second.subject).toContain("(reminder 2)");
  expect(second.id).not.toBe(first.id);
});

test("earlier mail that did not arrive is told in the next letter", () => {
  const trouble = "2 letters to bo@example.org could not be delivered.";
  const letter = composeLetter(finding(), { ...CONTEXT, trouble })!;
  expect(letter.text).toContain(trouble);
  expect(visibleText(letter.html)).toContain(trouble);
});

test("hands near mains, water and mould are cautioned", () => {
  const text = (cause: Finding["cause"]) => composeLetter(finding({ cause }), CONTEXT)!.text;
  expect(text("cooling-lost")).toMatch(/Move the cocoons[\s\S]*dry hands[\s\S]*electrician/);
  expect(text("condensation")).toContain("If water lies near them, do not reach in");
  expect(text("mould")).toMatch(/mask[\s\S]*bleach/);
});
