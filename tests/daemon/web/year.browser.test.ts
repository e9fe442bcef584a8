import { expect, test } from "vitest";
import { PAGES } from "../../../daemon/web/page-list.js";
import { browserTest, openPage, seriousFindings } from "../../browser.js";
import { serveYear } from "./year-served.js";

const ADDRESSES = [
  "/due",
  "/lots",
  "/lots/new",
  "/lot/hedge-2025",
  "/lot/hedge-2025/change",
  "/journal?wrote=4",
  "/probes",
  "/journal/write/inspected",
  "/journal/write/released?lot=hedge-2025",
  "/journal/write/withdrawn?corrects=4",
];

test("every page is looked at, here or on the walk", () => {
  const isHere = (path: string) => {
    const pattern = new RegExp(`^${path.replace(/:[a-z]+|\*/g, "[^/]+")}$`);
    return ADDRESSES.some((address) => pattern.test(address.split("?")[0]!));
  };
  expect(PAGES.map(({ path }) => path).filter((path) => !isHere(path))).toEqual([
    "/",
    "/winter",
    "/winter/:chamber",
    "/winter/:chamber/:span",
    "/letters",
    "/letter/*",
    "/excursion/*",
  ]);
});

browserTest.each([
  ["light", 1280],
  ["dark", 390],
] as const)(
  "no page of the year has anything serious against it, %s and %i px wide",
  async (colorScheme, width) => {
    const { base } = await serveYear();
    const { page, complaints, strangers } = await openPage({
      colorScheme,
      viewport: { width, height: 844 },
    });
    for (const address of ADDRESSES) {
      await page.goto(`${base}${address}`);
      expect(await seriousFindings(page), address).toEqual([]);
    }
    // A form that is wrong is a page of its own.
    for (const address of ["/journal/write/weighed", "/lots/new"]) {
      await page.goto(`${base}${address}`);
      await page.locator("main form button").click();
      await page.getByRole("alert").waitFor();
      expect(await seriousFindings(page), address).toEqual([]);
    }
    expect(complaints.filter((words) => !words.includes("422"))).toEqual([]);
    expect(strangers).toEqual([]);
  },
  240_000,
);

browserTest(
  "a keeper writes down what is due, without script, and mends what was wrong",
  async () => {
    const { base, store } = await serveYear();
    const { page } = await openPage({ javaScriptEnabled: false });
    await page.goto(`${base}/due`);
    const damping = page.locator("li", { hasText: "Damp the paper in shed" });
    await damping.getByRole("link", { name: "Write it down" }).click();
    await page.getByLabel("When").fill("2027-01-01T08:00");
    await page.getByLabel("In your own words").fill("three drops");
    await page.getByRole("button", { name: "Write it down" }).click();
    const alert = page.getByRole("alert");
    expect(await alert.textContent()).toContain("When: expected a time that is not yet to come");
    expect(await page.getByLabel("In your own words").inputValue()).toBe("three drops");
    await page.getByLabel("When").fill("2026-04-03T09:00");
    await page.getByRole("button", { name: "Write it down" }).click();
    expect(await page.getByRole("status").textContent()).toContain("damped");
    expect(store.journal.soFar().entries.at(-1)).toMatchObject({
      act: { kind: "damped" },
      atMs: Date.UTC(2026, 3, 3, 8),
      words: "three drops",
    });
    await page.goto(`${base}/due`);
    expect(await page.locator("main").textContent()).toContain("on 24 April 2026, in 21 days");
  },
  60_000,
);

browserTest(
  "on the smallest phone long tables are set in lines, and are tables all the same",
  async () => {
    const { base } = await serveYear();
    const { page } = await openPage({ viewport: { width: 320, height: 640 } });
    for (const [address, columns] of [
      ["/journal", 7],
      ["/lot/hedge-2025", 7],
      ["/probes", 6],
    ] as const) {
      await page.goto(`${base}${address}`);
      const table = page.getByRole("table").last();
      expect(await table.getByRole("columnheader").count(), address).toBe(columns);
      expect(await table.getByRole("rowheader").count(), address).toBeGreaterThan(0);
      for (const region of await page.locator(".lines").all())
        expect(await region.evaluate((e) => e.scrollWidth - e.clientWidth), address).toBe(0);
      expect(await page.evaluate("document.documentElement.scrollWidth"), address).toBe(320);
    }
  },
  60_000,
);
