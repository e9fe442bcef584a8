import type { Place } from "../../../daemon/drawing/path.js";

/** Every place of path data that uses M, m, l, h, v, H, V and z; after SVG 2, section 9.3. */
export function placesOf(data: string): Place[] {
  return outlinesOf(data).flat();
}

/** The places of each outline of path data. */
export function outlinesOf(data: string): Place[][] {
  const outlines: Place[][] = [];
  let [x, y] = [0, 0];
  for (const [, command, rest] of data.matchAll(/([MmlhvHVz])([^MmlhvHVz]*)/g)) {
    const numbers = [...rest!.matchAll(/-?(?:\d+\.?\d*|\.\d+)/g)].map(([text]) => Number(text));
    if (command === "M" || command === "m") {
      const [fromX, fromY] = command === "M" ? [0, 0] : [x, y];
      [x, y] = [fromX + numbers[0]!, fromY + numbers[1]!];
      outlines.push([[x, y]]);
      continue;
    }
    const step = command === "l" ? 2 : 1;
    for (let i = 0; i < numbers.length; i += step) {
      if (command === "l") [x, y] = [x + numbers[i]!, y + numbers[i + 1]!];
      else if (command === "h") x += numbers[i]!;
      else if (command === "v") y += numbers[i]!;
      else if (command === "H") x = numbers[i]!;
      else y = numbers[i]!;
      outlines.at(-1)!.push([x, y]);
    }
  }
  return outlines;
}

/** Area inside an outline, by the shoelace formula. */
export function areaOf(outline: readonly Place[]): number {
  const twice = outline.reduce((sum, [x, y], i) => {
    const [nextX, nextY] = outline[(i + 1) % outline.length]!;
    return sum + x * nextY - nextX * y;
  }, 0);
  return Math.abs(twice) / 2;
}
