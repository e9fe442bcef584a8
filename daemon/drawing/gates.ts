import { MINUTE_MS } from "../../shared/time.js";
import { html, type Markup } from "../html.js";
import { limitWords, type TemperatureUnit } from "../letters/temperature-words.js";
import { INK, PAPER } from "./inks.js";
import type { ToldForecast } from "./material.js";
import { noted, round, textPx } from "./text.js";

const POST_PX = 4;
const LABEL_PX = 10;

/** Where gates are set: the drawing's scales, and the end of it. */
export type GateGround = Readonly<{
  along: (atMs: number) => number;
  down: (valueC: number) => number;
  /** Right edge, px. */
  endPx: number;
  /** Highest and lowest temperature that the pane shows. */
  topC: number;
  bottomC: number;
  unit: TemperatureUnit;
}>;

/**
 * A forecast as gates: for each temperature that the cocoons were to reach, two posts at the
 * soonest and the latest, at its height. A thread that passes between the posts came as foretold.
 * A gate that may never be passed is open to the right.
 */
export function drawGates({ atMs, cocoonC, forecast }: ToldForecast, ground: GateGround): Markup {
  const { along, down, endPx, topC, bottomC, unit } = ground;
  const gates = forecast.reaches
    .filter(({ targetC }) => targetC <= topC && targetC >= bottomC)
    .map(({ targetC, soonestMin, latestMin }) => {
      const from = along(atMs + soonestMin * MINUTE_MS);
      if (from >= endPx) return null;
      const y = round(down(targetC));
      const to = latestMin === null ? Infinity : along(atMs + latestMin * MINUTE_MS);
      const post = (x: number) => `M${round(x)} ${round(y - POST_PX)}v${2 * POST_PX}`;
      const posts = `${post(from)}${to <= endPx ? post(to) : ""}M${round(from)} ${y}H${round(Math.min(to, endPx))}`;
      const words = limitWords(targetC, unit);
      // Near the right edge it stands to the left of its first post.
      const isLast = from + 3 + textPx(words, LABEL_PX) > endPx;
      const at = isLast ? ({ x: from - 3, anchor: "end" } as const) : { x: from + 3 };
      const label = noted(words, at.x, y - 6, { ...at, ink: INK, halo: true });
      return html`<path d="${posts}" stroke="${INK}" stroke-width="1.3" stroke-dasharray="${to > endPx ? "3 2" : "none"}" fill="none"/>${label}`;
    });
  const told =
    cocoonC !== null &&
    html`<circle cx="${round(along(atMs))}" cy="${round(down(cocoonC))}" r="3" fill="${PAPER}" stroke="${INK}" stroke-width="1.3"/>`;
  return html`<g><title>What was foretold</title>${gates}${told}</g>`;
}
