import type { Page } from "playwright-core";
import { afterAll, beforeAll, expect, vi } from "vitest";
import { DAYLIGHT, LAMPLIGHT } from "../../../daemon/letters/palette.js";
import { browserTest, openPage, seriousFindings } from "../../browser.js";
import { type QuillmereServed, serveQuillmere } from "./quillmere-served.js";

// A browser on a small board that does other things as well takes its time.
vi.setConfig({ testTimeout: 180_000, hookTimeout: 180_000 });

let served: QuillmereServed;
beforeAll(async () => {
  served = await serveQuillmere();
});
afterAll(() => served.close());

const heading = async (page: Page) => (await page.locator("h1").textContent()) ?? "";
const door = () => served.store.excursions.open().find(({ cause }) => cause === "door-ajar")!;

/** Every page, or one of each kind. */
function everyAddress(): string[] {
  const [letter] = served.store.letters.ofExcursion(door().id);
  const spans = ["", "/2026", "/2026-10", "/2026-10-12", "/2026-10-13"];
  return [
    "/",
    "/winter",
    ...spans.map((span) => `/winter/shed${span && `${span}`}`),
    `/excursion/${door().id}`,
    "/probes",
    "/letters",
    `/letter/${letter!.id}`,
    "/nowhere",
  ];
}

browserTest("the keeper walks from now to the winter, a month, a story, and back", async () => {
  const { page, complaints, strangers } = await openPage();
  await page.goto(served.base);
  expect(await page.locator("main").textContent()).toContain("Shut the fridge door: shed");
  await page.getByRole("link", { name: "Winter" }).click();
  expect(await heading(page)).toBe("The winter of 2026 to 2027");
  await page.locator("svg").getByRole("link", { name: "October 2026" }).click();
  expect(await heading(page)).toBe("October 2026");
  await page.locator("ul.events a", { hasText: "oor ajar" }).first().click();
  expect(await heading(page)).toBe("Door ajar: shed");
  expect(await page.locator("main").textContent()).toMatch(/The fridge door seems to stand open/);
  await page.getByRole("link", { name: /^Shut the fridge door/ }).click();
  expect(await page.locator("pre").textContent()).toMatch(/^Shut the fridge door/);
  await page.goBack();
  await page.getByRole("link", { name: "Now" }).click();
  expect(await heading(page)).toBe("How the cocoons are");
  expect(complaints).toEqual([]);
  expect(strangers).toEqual([]);
});

browserTest.each([
  ["light", 1280],
  ["dark", 390],
] as const)(
  "no page has anything serious against it, %s and %i px wide",
  async (colorScheme, width) => {
    const viewport = { width, height: 844 };
    const { page, complaints, strangers } = await openPage({ colorScheme, viewport });
    for (const address of everyAddress()) {
      await page.goto(`${served.base}${address}`);
      for (const summary of await page.locator("summary").all()) await summary.click();
      expect(await seriousFindings(page), address).toEqual([]);
    }
    const missing = complaints.filter((words) => !words.includes("404"));
    expect(missing).toEqual([]);
    expect(strangers).toEqual([]);
  },
);

browserTest("acknowledging from the page stops the asking, once and for all to see", async () => {
  const { page } = await openPage({ locale: "en-GB" });
  await page.goto(served.base);
  // The demo's fridge is damp besides, and that is another matter to answer.
  const event = page.locator("article", { hasText: "Shut the fridge door" });
  await event.getByRole("button", { name: "I am on my way" }).click();
  expect(page.url()).toBe(`${served.base}/`);
  expect(await event.textContent()).toMatch(/Acknowledged at 15:\d\d/);
  expect(await event.getByRole("button", { name: "I am on my way" }).count()).toBe(0);
  expect(door().acknowledgedAtMs).toBe(served.nowMs);
});

browserTest("a picture is read by keyboard alone, moment by moment and day by day", async () => {
  const { page } = await openPage({ locale: "en-GB" });
  await page.goto(`${served.base}/winter/shed/2026-10-12`);
  await page.keyboard.press("Tab");
  expect(await page.locator(":focus").textContent()).toBe("Skip to the page");
  await page.keyboard.press("Enter");
  for (let i = 0; i < 20 && (await page.locator("figure:focus").count()) === 0; i++)
    await page.keyboard.press("Tab");
  await page.keyboard.press("Home");
  const readout = page.locator(".readout");
  expect(await readout.textContent()).toMatch(/^00:00: Cocoons .*°C; .*Air .*; Humidity /);
  await page.keyboard.press("ArrowRight");
  expect(await readout.textContent()).toMatch(/^01:00: /);
  await page.keyboard.press("End");
  expect(await readout.textContent()).toMatch(/^23:00: /);
  await page.keyboard.press("PageUp");
  await page.waitForURL(/2026-10-11/);
  expect(await page.locator("figure:focus").count()).toBe(1);
  await page.keyboard.press("PageDown");
  await page.waitForURL(/2026-10-12/);
  await page.goto(`${served.base}/winter/shed/2026-10#walk`);
  await page.keyboard.press("Home");
  await page.keyboard.press("ArrowRight");
  expect(await readout.textContent()).toMatch(/^Fri 2 Oct: /);
  await page.keyboard.press("Enter");
  await page.waitForURL(/2026-10-02/);
});

browserTest("pointing at a moment says what was then", async () => {
  const { page } = await openPage({ locale: "en-US", viewport: { width: 1280, height: 900 } });
  await page.goto(`${served.base}/winter/shed/2026-10-12`);
  const box = (await page.locator("figure svg").boundingBox())!;
  // The drawing begins 34 of its 1,040 px from the left, and ends 2 from the right.
  const noon = box.x + ((34 + (1_040 - 36) * (12.5 / 24)) * box.width) / 1_040;
  await page.mouse.move(noon, box.y + 100);
  expect(await page.locator(".readout").textContent()).toMatch(/^12:00 pm: Cocoons /);
  await page.mouse.move(noon, box.y + box.height + 300);
  expect(await page.locator(".readout").textContent()).toMatch(/^Point at a moment/);
});

browserTest("without script every page is there, and so is the way to acknowledge", async () => {
  const { page } = await openPage({ javaScriptEnabled: false });
  for (const address of everyAddress()) {
    await page.goto(`${served.base}${address}`);
    expect((await heading(page)).length, address).toBeGreaterThan(2);
  }
  await page.goto(`${served.base}/winter/shed/2026-10-12`);
  expect(await page.locator("figure svg").count()).toBe(1);
  await page.locator("summary").click();
  expect(await page.locator("tbody tr").count()).toBe(24);
  await page.locator("a[rel=next]").click();
  expect(await heading(page)).toBe("Tuesday 13 October 2026");
});

browserTest("on a phone nothing sticks out, and what is touched is large enough", async () => {
  const { page } = await openPage({
    viewport: { width: 390, height: 844 },
    isMobile: true,
    hasTouch: true,
    userAgent: "Mozilla/5.0 (Linux; Android 14) AppleWebKit/537.36 Chrome/140 Mobile Safari/537.36",
  });
  for (const address of everyAddress()) {
    await page.goto(`${served.base}${address}`);
    const wide = await page.evaluate("document.documentElement.scrollWidth");
    expect(wide, address).toBeLessThanOrEqual(390);
    const targets = page.locator("button, nav a, summary");
    for (const target of await targets.all()) {
      const { height } = (await target.boundingBox())!;
      // Our own choice; WCAG 2.2, success criterion 2.5.8, asks for 24.
      expect(height, `${address} ${await target.textContent()}`).toBeGreaterThanOrEqual(44);
    }
  }
});

browserTest("a dark screen has dark pages, and paper is white whatever the screen", async () => {
  const { page } = await openPage({ colorScheme: "dark" });
  const ground = () => page.evaluate("getComputedStyle(document.documentElement).backgroundColor");
  await page.goto(`${served.base}/winter`);
  expect(await ground()).toBe(rgbOf(LAMPLIGHT.paper));
  await page.emulateMedia({ colorScheme: "light" });
  expect(await ground()).toBe(rgbOf(DAYLIGHT.paper));
  await page.emulateMedia({ colorScheme: "dark", media: "print" });
  expect(await ground()).toBe("rgb(255, 255, 255)");
  expect(await page.locator("nav").first().isVisible()).toBe(false);
});

browserTest.each(["A4", "Letter"] as const)(
  "a winter prints on %s with no edge cut off",
  async (format) => {
    const { page } = await openPage();
    await page.goto(`${served.base}/winter`);
    await page.emulateMedia({ media: "print" });
    // ISO 216 and ANSI Y14.1 at 96 px an inch, without 15 mm at each side.
    const widthPx = Math.floor((format === "A4" ? 210 / 25.4 : 8.5) * 96 - (30 / 25.4) * 96);
    await page.setViewportSize({ width: widthPx, height: 1_000 });
    expect(await page.evaluate("document.documentElement.scrollWidth")).toBeLessThanOrEqual(
      widthPx,
    );
    for (const svg of await page.locator("figure svg").all()) {
      const box = (await svg.boundingBox())!;
      expect(box.x + box.width).toBeLessThanOrEqual(widthPx + 1);
    }
    const pdf = await page.pdf({ format });
    expect(pdf.subarray(0, 5).toString()).toBe("%PDF-");
  },
);

browserTest("the reader's locale decides between 12 and 24 hours", async () => {
  for (const [locale, clock] of [
    ["en-US", / \d{1,2}:\d\d pm on /],
    ["de-DE", / 1\d:\d\d on /],
  ] as const) {
    const { page } = await openPage({ locale });
    await page.goto(served.base);
    expect(await page.locator("footer").textContent(), locale).toMatch(clock);
  }
});

function rgbOf(colour: string): string {
  const parts = [1, 3, 5].map((at) => Number.parseInt(colour.slice(at, at + 2), 16));
  return `rgb(${parts.join(", ")})`;
}
