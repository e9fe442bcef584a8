import { expect } from "vitest";
import { inkProperties } from "../../../daemon/drawing/inks.js";
import { drawWinterSheet } from "../../../daemon/drawing/winter-sheet.js";
import { DAYLIGHT, LAMPLIGHT } from "../../../daemon/letters/palette.js";
import { browserTest, openPage, seriousFindings } from "../../browser.js";
import { december, doorMark, LOOK } from "./winter-material.js";

const PAGE = (svg: string) =>
  `<!doctype html><html lang="en"><head><title>Winter</title><style>:root{${inkProperties(DAYLIGHT)}}@media(prefers-color-scheme:dark){:root{${inkProperties(LAMPLIGHT)}}}body{background:var(--paper)}</style></head><body><main><h1>Winter</h1>${svg}</main></body></html>`;

browserTest("a sheet with links in a page has nothing serious against it", async () => {
  const { page, complaints, strangers } = await openPage({
    viewport: { width: 1040, height: 900 },
  });
  const look = { ...LOOK, hrefOf: ({ kind }: { kind: string }) => `#${kind}` };
  await page.setContent(
    PAGE(drawWinterSheet(december({ excursions: [doorMark()] }), look).toString()),
  );
  expect(await seriousFindings(page)).toEqual([]);
  expect(complaints).toEqual([]);
  expect(strangers).toEqual([]);
});

browserTest("inks follow the page into the dark, and are daylight's without one", async () => {
  const { page } = await openPage({ colorScheme: "dark" });
  const svg = drawWinterSheet(december({ excursions: [doorMark()] }), LOOK).toString();
  const heading = () =>
    page
      .locator("svg text")
      .first()
      .evaluate((text) => {
        const { fill } = (
          globalThis as unknown as { getComputedStyle(e: unknown): { fill: string } }
        ).getComputedStyle(text);
        return fill;
      });
  await page.setContent(PAGE(svg));
  // LAMPLIGHT's ink, #ece6da.
  expect(await heading()).toBe("rgb(236, 230, 218)");
  await page.setContent(svg);
  // DAYLIGHT's ink, #26221c.
  expect(await heading()).toBe("rgb(38, 34, 28)");
});
