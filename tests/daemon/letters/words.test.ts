import fc from "fast-check";
import { expect, test } from "vitest";
import { forecastWords, laterForecast, waitWords } from "../../../daemon/letters/forecast-words.js";
import { DAYLIGHT, type Inks, LAMPLIGHT } from "../../../daemon/letters/palette.js";
import { clauseWords, numberWords, spanWords } from "../../../daemon/letters/temperature-words.js";
import { durationWords } from "../../../daemon/letters/time-words.js";
import { HOUR_MS, MINUTE_MS } from "../../../shared/time.js";

test("a wait is told between its ends, in words a person can use", () => {
  expect(waitWords(40, 70)).toBe("between 40 and 70 minutes");
  expect(waitWords(43, 68)).toBe("between 40 and 70 minutes");
  expect(waitWords(0, 8)).toBe("less than 10 minutes");
  expect(waitWords(60, 60)).toBe("about 60 minutes");
  expect(waitWords(50, 130)).toBe("between 50 minutes and 2¼ hours");
  expect(waitWords(150, 320)).toBe("between 2½ and 5½ hours");
  expect(waitWords(600, 4000)).toBe("at least 10 hours");
  expect(waitWords(4000, 9000)).toBe("more than two days");
});

test("rounding never narrows what is promised", () => {
  const minutesOf = (value: string, unit: string): number => {
    const quarters = { "¼": 0.25, "½": 0.5, "¾": 0.75 }[value.at(-1)!] ?? 0;
    const whole = Number.parseInt(value, 10);
    return unit === "hours" ? 60 * (whole + quarters) : whole;
  };
  fc.assert(
    fc.property(
      fc.integer({ min: 5, max: 2800 }),
      fc.integer({ min: 0, max: 80 }),
      (from, more) => {
        const to = Math.min(2880, from + more);
        const words = waitWords(from, to);
        const [, low, lowUnit, high, unit] =
          words.match(/^between (\S+)(?: (\S+))? and (\S+) (\S+)$/) ?? [];
        if (low === undefined) {
          expect(words).toMatch(/^about /);
          expect(to - from).toBe(0);
          return;
        }
        expect(minutesOf(low, lowUnit ?? unit!)).toBeLessThanOrEqual(from);
        expect(minutesOf(high!, unit!)).toBeGreaterThanOrEqual(to);
      },
    ),
    { seed: 3, numRuns: 1000 },
  );
});

test("what may never come is told as a may", () => {
  const forecast = {
    settlesAtC: { low: 3.1, high: 3.9 },
    reaches: [{ targetC: 3.3, soonestMin: 47, latestMin: null }],
  };
  expect(forecastWords(forecast, 2.6, "C")).toEqual([
    "They may reach 3.3 °C in 45 minutes or later, or never.",
    "Left alone, they would settle at about 3.1 to 3.9 °C.",
  ]);
  expect(forecastWords(null, 2.6, "C")).toEqual([
    "How long there is cannot be told at the moment.",
  ]);
});

test("a forecast that did not come true is dropped from a reminder", () => {
  const forecast = {
    settlesAtC: { low: 8, high: 9 },
    reaches: [{ targetC: 3.3, soonestMin: 10, latestMin: 20 }],
  };
  expect(laterForecast(forecast, 20)).toBeNull();
  expect(laterForecast(forecast, 15)?.reaches).toEqual([
    { targetC: 3.3, soonestMin: 0, latestMin: 5 },
  ]);
});

test("numbers carry a true minus, never a negative nought", () => {
  expect(numberWords(-0.04, 1)).toBe("0.0");
  expect(numberWords(-1.26, 1)).toBe("\u22121.3");
  expect(spanWords({ low: -2, high: 3.3 }, "C")).toBe("\u22122 to 3.3 °C");
  expect(clauseWords("4.0 °C·h over 2.0 K", "F")).toBe("4.0 °C·h over 3.6 °F");
});

test("durations are told in two units at most", () => {
  expect(durationWords(20_000)).toBe("less than a minute");
  expect(durationWords(MINUTE_MS)).toBe("1 minute");
  expect(durationWords(59.6 * MINUTE_MS)).toBe("1 hour");
  expect(durationWords(145 * MINUTE_MS)).toBe("2 hours 25 minutes");
  expect(durationWords(76 * HOUR_MS)).toBe("3 days 4 hours");
});

/** WCAG 2.2, definitions of relative luminance and contrast ratio. */
function contrast(one: string, other: string): number {
  const luminance = (hex: string): number => {
    const [r, g, b] = [1, 3, 5].map((i) => {
      const part = Number.parseInt(hex.slice(i, i + 2), 16) / 255;
      return part <= 0.04045 ? part / 12.92 : ((part + 0.055) / 1.055) ** 2.4;
    });
    return 0.2126 * r! + 0.7152 * g! + 0.0722 * b!;
  };
  const [dark, light] = [luminance(one), luminance(other)].sort((a, b) => a - b);
  return (light! + 0.05) / (dark! + 0.05);
}

test("every ink can be read on its ground, by day and by lamp", () => {
  // WCAG 2.2: black on white is 21 : 1.
  expect(contrast("#000000", "#ffffff")).toBeCloseTo(21, 9);
  const weakest = (inks: Inks): number =>
    Math.min(
      ...[inks.ink, inks.quiet, ...Object.values(inks.directions)].flatMap((ink) =>
        [inks.paper, inks.inset].map((ground) => contrast(ink, ground)),
      ),
    );
  // WCAG 2.2, success criterion 1.4.3 (level AA): at least 4.5 : 1 for text of this size.
  expect(weakest(DAYLIGHT)).toBeGreaterThanOrEqual(4.5);
  expect(weakest(LAMPLIGHT)).toBeGreaterThanOrEqual(4.5);
});
