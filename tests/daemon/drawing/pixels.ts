import { Resvg } from "@resvg/resvg-js";

/** The pixels of a PNG. */
export type Pixels = Readonly<{
  width: number;
  height: number;
  /** Colour at a place, "#rrggbb". */
  at(x: number, y: number): string;
}>;

/** Open a PNG: width and height from its head (W3C PNG, section 11.2.1), pixels by decoding it. */
export function openPng(png: Buffer): Pixels {
  const [width, height] = [png.readUInt32BE(16), png.readUInt32BE(20)];
  const inside = `data:image/png;base64,${png.toString("base64")}`;
  const { pixels } = new Resvg(
    `<svg xmlns="http://www.w3.org/2000/svg" width="${width}" height="${height}"><image href="${inside}" width="${width}" height="${height}"/></svg>`,
    { imageRendering: 1, font: { loadSystemFonts: false } },
  ).render();
  return {
    width,
    height,
    at(x, y) {
      const from = (Math.floor(y) * width + Math.floor(x)) * 4;
      return `#${pixels.subarray(from, from + 3).toString("hex")}`;
    },
  };
}
