import { createRequire } from "node:module";
import { dirname, join } from "node:path";
import { renderAsync } from "@resvg/resvg-js";
import type { Markup } from "../html.js";
import { DAYLIGHT } from "../letters/palette.js";
import { withoutProperties } from "./inks.js";

const require = createRequire(import.meta.url);
const FONTS = [
  "DejaVuSansCondensed",
  "DejaVuSansCondensed-Bold",
  "DejaVuSansCondensed-Oblique",
  "DejaVuSansCondensed-BoldOblique",
];

/** Looked up when first needed: most commands draw nothing. */
function fontFiles(): string[] {
  const folder = join(dirname(require.resolve("dejavu-fonts-ttf/package.json")), "ttf");
  return FONTS.map((name) => join(folder, `${name}.ttf`));
}

/**
 * A drawing as PNG, on paper by daylight. With the fonts that come with Drowse and none of the
 * system's, so that the same drawing gives the same picture on every board.
 *
 * On a small board it takes a second, and some 20 MB that stay: see `draw-apart.ts`.
 *
 * @param widthPx width of the image in its own pixels; twice the drawing's is sharp on a phone
 * @throws {Error} by rejecting, what resvg says of a drawing that is no SVG
 */
export async function toPng(svg: Markup | string, widthPx: number): Promise<Buffer> {
  const image = await renderAsync(withoutProperties(svg.toString()), {
    background: DAYLIGHT.paper,
    fitTo: { mode: "width", value: Math.round(widthPx) },
    font: {
      loadSystemFonts: false,
      fontFiles: fontFiles(),
      defaultFontFamily: "DejaVu Sans Condensed",
      sansSerifFamily: "DejaVu Sans Condensed",
    },
  });
  return image.asPng();
}
