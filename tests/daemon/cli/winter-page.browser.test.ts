import { writeFileSync } from "node:fs";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import type { Page } from "playwright-core";
import { afterAll, beforeAll, expect } from "vitest";
import { browserTest, openPage, seriousFindings } from "../../browser.js";
import { runDrowse } from "../../command.js";
import { type KeptWinter, makeKeptWinter } from "./kept-winter.js";

let kept: KeptWinter;

beforeAll(() => {
  kept = makeKeptWinter(34);
}, 180_000);

afterAll(() => kept.remove());

/** Run the command, save what it prints, and open it as a keeper would. */
async function openReview(
  options: readonly string[],
  context: Parameters<typeof openPage>[0],
): Promise<Awaited<ReturnType<typeof openPage>> & { text: string }> {
  const { stdout } = await runDrowse(["winter", "--html", ...options], kept.folder);
  const file = join(kept.folder, "winter.html");
  writeFileSync(file, stdout);
  const opened = await openPage(context);
  await opened.page.goto(pathToFileURL(file).href);
  return { ...opened, text: stdout };
}

const shown = (page: Page, selector: string) => page.locator(selector).first().isVisible();
const overflow = (page: Page) =>
  page.evaluate(() => {
    const { scrollWidth, clientWidth } = (
      globalThis as unknown as {
        document: { documentElement: { scrollWidth: number; clientWidth: number } };
      }
    ).document.documentElement;
    return scrollWidth - clientWidth;
  });

browserTest("the review is one file that asks for nothing and runs nothing", async () => {
  const { page, complaints, strangers, text } = await openReview([], {});
  expect(text).not.toMatch(/<script|<link|<img|url\((?!#)|@import|javascript:/);
  expect(complaints).toEqual([]);
  expect(strangers).toEqual([]);
  expect(await seriousFindings(page)).toEqual([]);
  expect(Buffer.byteLength(text)).toBeLessThan(150_000);
});

browserTest("a phone has the narrow drawing, and nothing hangs over its edge", async () => {
  const { page } = await openReview([], { viewport: { width: 390, height: 844 } });
  expect(await shown(page, ".narrow svg")).toBe(true);
  expect(await shown(page, ".wide svg")).toBe(false);
  expect(await overflow(page)).toBe(0);
  // Words in a drawing are as large as drawn: 11 px, or a hair less.
  const scale = await page
    .locator(".narrow svg")
    .first()
    .evaluate((svg) => {
      const element = svg as unknown as {
        clientWidth: number;
        viewBox: { baseVal: { width: number } };
      };
      return element.clientWidth / element.viewBox.baseVal.width;
    });
  expect(scale).toBeGreaterThan(0.95);
});

// ISO 216 A4 is 210 × 297 mm; ANSI Letter is 8.5 × 11 in. A point is 1/72 in.
browserTest.each([
  ["A4", 595, 842],
  ["Letter", 612, 792],
] as const)("it prints on %s, by daylight even from a dark screen", async (format, wide, tall) => {
  const { page } = await openReview([], { colorScheme: "dark" });
  const pdf = (await page.pdf({ format, printBackground: true })).toString("latin1");
  const box = /\/MediaBox \[0 0 ([\d.]+) ([\d.]+)\]/.exec(pdf)!;
  // Chromium rounds paper to its own pixels.
  expect(Math.abs(Number(box[1]) - wide)).toBeLessThanOrEqual(1);
  expect(Math.abs(Number(box[2]) - tall)).toBeLessThanOrEqual(1);
  expect(Number(/\/Count (\d+)/.exec(pdf)![1])).toBeLessThanOrEqual(4);
  // As wide as the text of such a page: its margins are 14 mm, and a CSS pixel is 1/96 in.
  const textPx = Math.round(((wide / 72) * 25.4 - 28) * (96 / 25.4));
  await page.setViewportSize({ width: textPx, height: 1_000 });
  await page.emulateMedia({ media: "print", colorScheme: "dark" });
  expect(await shown(page, ".wide svg")).toBe(true);
  expect(await shown(page, ".narrow svg")).toBe(false);
  expect(await overflow(page)).toBe(0);
  const inkOf = (selector: string, property: "color" | "backgroundColor" | "fill") =>
    page
      .locator(selector)
      .first()
      .evaluate(
        (element, name) =>
          (
            globalThis as unknown as {
              getComputedStyle(e: unknown): Record<string, string>;
            }
          ).getComputedStyle(element)[name],
        property,
      );
  expect(await inkOf("html", "backgroundColor")).toBe("rgb(255, 255, 255)");
  // DAYLIGHT's ink, #26221c.
  expect(await inkOf("h1", "color")).toBe("rgb(38, 34, 28)");
  expect(await inkOf(".wide svg text", "fill")).toBe("rgb(38, 34, 28)");
  // No month is taller than a page, so that each can stand whole on one.
  const heights = await page
    .locator(".wide .stave")
    .evaluateAll((staves) =>
      staves.map((stave) => (stave as unknown as { offsetHeight: number }).offsetHeight),
    );
  expect(Math.max(...heights)).toBeLessThan(((tall / 72) * 25.4 - 28) * (96 / 25.4));
});

browserTest(
  "two seasons stand beside each other at a desk, and under each other on a phone",
  async () => {
    const options = ["--from", "2026-10-01", "--to", "2026-10-15", "--beside", "2026-10-15"];
    const { page, complaints } = await openReview(options, {
      viewport: { width: 1000, height: 800 },
    });
    const boxes = async () => {
      const staves = page.locator(".pair .stave");
      return [await staves.nth(0).boundingBox(), await staves.nth(1).boundingBox()];
    };
    const [left, right] = await boxes();
    expect(right!.x).toBeGreaterThan(left!.x + left!.width);
    expect(right!.y).toBe(left!.y);
    await page.setViewportSize({ width: 390, height: 844 });
    const [upper, lower] = await boxes();
    expect(lower!.y).toBeGreaterThanOrEqual(upper!.y + upper!.height);
    expect(await overflow(page)).toBe(0);
    expect(await seriousFindings(page)).toEqual([]);
    expect(complaints).toEqual([]);
  },
);
