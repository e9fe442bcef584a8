import { describe, expect, test } from "vitest";
import { composeLetter } from "../../../daemon/letters/compose.js";
import type { Beside, Finding } from "../../../shared/excursion.js";
import { DAY_MS, HOUR_MS } from "../../../shared/time.js";
import { CONTEXT, finding, NIGHT_MS } from "./quillmere.js";

const ROOMS = { cocoonHumidityPct: 92, humidityFrom: "box", mouldIndex: 0.3 } as const;

/** A letter about water, told a day after it began. */
function water(cause: Finding["cause"], beside: Beside, changed: Partial<Finding> = {}) {
  const told = finding({
    cause,
    urgency: "visit",
    forecast: null,
    airC: 2.4,
    cocoonC: 2.6,
    humidityPct: 88,
    startedAtMs: NIGHT_MS - 30 * HOUR_MS,
    beside: { ...ROOMS, ...beside },
    ...changed,
  });
  return composeLetter(told, CONTEXT)!.text;
}

describe("a letter on damp", () => {
  test("says what to do, what the cocoons feel, how long there is, and where it comes from", () => {
    const text = water("damp", {});
    expect(text.split("\n")[0]).toBe("Air the boxes today: shed.");
    expect(text).toMatch(/Humidity at the cocoons +92 % \(over the last hours, measured in a box;/);
    expect(text).toContain("their band is 60 to 70 %");
    expect(text).toMatch(/Humidity of the air +88 %/);
    expect(text).toContain("There is no hurry of hours.");
    expect(text).toContain("Spread the cocoons one or two deep");
    expect(text).toContain("Mould dust harms lungs.");
    expect(text).toContain("made for pine wood");
    expect(text).not.toMatch(/surviv/i);
  });

  test("says how soon mould would begin on pine where it could, and that it could not where not", () => {
    // Hukka and Viitanen (1999), the published regression: 98 %RH and 3 °C give 4.67 weeks.
    const soon = water("damp", { cocoonHumidityPct: 98 }, { cocoonC: 3 });
    expect(soon).toContain("mould on pine wood would begin in about 5 weeks; on cocoons perhaps");
    // Critical humidity at 3 °C is 91.98 % by the same paper.
    const never = water("damp", { cocoonHumidityPct: 90 }, { cocoonC: 3 });
    expect(never).toContain("On pine wood mould would not begin at this humidity");
  });

  test("names the damping that no longer explains it, and is silent on one of long ago", () => {
    const dampedMs = NIGHT_MS - 5 * DAY_MS;
    expect(water("damp", { dampedMs })).toContain(
      "You noted on Tuesday 6 January that you damped the paper; by now that no longer explains it.",
    );
    expect(water("damp", { dampedMs: NIGHT_MS - 60 * DAY_MS })).not.toContain("You noted");
  });
});

test("a letter on dryness asks for a few drops, and says that no experiment proves the band", () => {
  const text = water("dry", { cocoonHumidityPct: 54, dryOnMs: null });
  expect(text.split("\n")[0]).toBe("Damp the paper with a few drops of water today: shed.");
  expect(text).toContain("on the paper, not on the cocoons");
  expect(text).toContain("no experiment on mason bees that proves it was found");
  expect(text).not.toContain("Mould index");
});

test("a letter on mould gives the index its scale and its limits, and asks to be told what was seen", () => {
  const text = water("mould", { mouldIndex: 1.04 });
  expect(text.split("\n")[0]).toBe("Look at the cocoons for mould today: shed.");
  expect(text).toMatch(/Mould index +1\.0 of 6/);
  expect(text).toContain("nobody has checked on cocoons or paper");
  expect(text).toContain("drowse tend inspected");
  expect(text).toContain("wear a mask that fits closely");
});

test("a letter on condensation asks to dry the boxes and warns of the warm room", () => {
  const text = water("condensation", { cocoonHumidityPct: 99 });
  expect(text.split("\n")[0]).toBe("Dry the boxes today: shed.");
  expect(text).toContain("drowse now --carry says how long to keep them shut");
  expect(text).toContain("at 100 % water settles on them");
});

test("what damp cost is told when it is over: wet hours and the rise of the index", () => {
  const cost = { ...finding().cost, wetHours: 14, mouldIndex: 0.42 };
  const first = composeLetter(finding({ cause: "damp", urgency: "visit" }), CONTEXT)!;
  const ended = finding({ cause: "damp", urgency: "visit", change: "ended", cost, beside: ROOMS });
  const { text } = composeLetter(ended, { ...CONTEXT, earlier: [first] })!;
  expect(text).toMatch(/Wet +14 hours/);
  expect(text).toMatch(/Mould index rose by +0\.4/);
});

describe("late in winter", () => {
  const late = (sleep: "ready" | "lightening", soonestDays: number | null): string =>
    composeLetter(finding({ beside: { late: { chillDays: 96.4, soonestDays, sleep } } }), CONTEXT)!
      .text;

  test("a letter on warmth says that the first may emerge within a day, and whose figures those are", () => {
    const text = late("ready", 0.9);
    expect(text).toContain(
      "The cocoons have had 96 days of cold, enough that only cold keeps them",
    );
    expect(text).toContain("the first may emerge within about a day. Kept cold, they sleep on.");
    expect(text).toContain("found on other mason bees than Osmia bicornis, which may differ");
  });

  test("it says days where there are days, and nothing of emergence where they would sleep on", () => {
    expect(late("lightening", 4.2)).toContain("enough that some may wake.");
    expect(late("lightening", 4.2)).toContain("the first may emerge in about 4 days");
    expect(late("ready", null)).not.toContain("emerge");
    expect(composeLetter(finding(), CONTEXT)!.text).not.toContain("It is late");
  });
});

describe("hours that nobody saw", () => {
  const dark = {
    fromMs: NIGHT_MS - 9 * HOUR_MS,
    toMs: NIGHT_MS,
    coldestC: -6,
    warmestC: 16.2,
    uncooledC: { low: 8.1, high: 16.2 },
  };
  const asked = finding({
    excursionId: "shed.dark.20260110T181500Z",
    cause: "warm",
    urgency: "visit",
    forecast: null,
    startedAtMs: dark.fromMs,
    beside: { dark },
  });

  test("a letter asks for a look, with the most that can have been and what was probable", () => {
    const { text, subject } = composeLetter(asked, CONTEXT)!;
    expect(text.split("\n")[0]).toBe("Look at the cocoons today: shed.");
    expect(subject).toBe("Look at the cocoons: shed");
    expect(text).toContain("Nobody saw the cocoons from 18:15 on Saturday 10 January to 03:15 on");
    expect(text).toContain("can have been as warm as 16.2 °C at the most");
    expect(text).toContain("they would be at 8.1 to 16.2 °C now, so the fridge ran for at least");
    expect(text).toContain("it is the most that can have been, not what was");
    expect(text).not.toContain("How long there is");
  });

  test("cocoons as warm as without any cooling are not said to have been cooled", () => {
    const { text } = composeLetter({ ...asked, cocoonC: 9 }, CONTEXT)!;
    expect(text).not.toContain("so the fridge ran");
  });

  test("the letter that a silent probe is heard again tells of it too, in the keeper's unit", () => {
    const mute = finding({ cause: "probe-mute", urgency: "visit", forecast: null });
    const earlier = [composeLetter(mute, CONTEXT)!];
    const context = { ...CONTEXT, temperatureUnit: "F", earlier } as const;
    const { text } = composeLetter({ ...mute, change: "ended", beside: { dark } }, context)!;
    expect(text).toContain("can have been as warm as 61.2 °F at the most");
    expect(text).not.toContain("What was not seen\n\n");
  });
});
