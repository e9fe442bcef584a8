import { gatherYear, type YearConfig } from "../due/gather-due.js";
import type { LetterContext } from "../letters/letter-context.js";
import type { NewLetter, Store } from "../store/store.js";
import { composeDigest } from "./compose-digest.js";
import { type DigestFigures, digestFigures } from "./figures.js";
import { gatherDigest } from "./material.js";
import { seasonSoFar } from "./season-figures.js";
import { judgeWeek, type WeekVerdict } from "./verdict.js";

/** A digest, and what it was made of. */
type MadeDigest = Readonly<{ letter: NewLetter; verdict: WeekVerdict; figures: DigestFigures }>;

/** Make the digest of a span from the store, as of `atMs`; queues nothing. */
export function makeDigest(
  store: Store,
  span: Readonly<{ fromMs: number; toMs: number }>,
  atMs: number,
  context: LetterContext,
  config: YearConfig,
): MadeDigest {
  const judged = { week: null, season: seasonSoFar(store, context.site, atMs) };
  const figures = digestFigures(gatherDigest(store, context.site, span, judged));
  const verdict = judgeWeek(figures);
  const year = { ...gatherYear(store, config, atMs), warmC: config.release.warmC };
  return { letter: composeDigest(figures, verdict, atMs, context, year), verdict, figures };
}
