import type { LabelKind } from "./label.js";
import type { Score, Verdict } from "./score.js";

/** Figures of one kind of fault over one or more winters. Minutes; null where nothing was told. */
export type KindFigures = Readonly<{
  events: number;
  told: number;
  inTime: number;
  medianMin: number | null;
  maxMin: number | null;
  causeRight: number;
}>;

/** Figures of one or more winters of one judge. */
export type Figures = Readonly<{
  winters: number;
  kinds: Readonly<Record<LabelKind, KindFigures>>;
  /** Of the doors left ajar, those that the air could be told by: `FELT_RISE_K` and more. */
  feltDoors: KindFigures;
  inVain: number;
  inVainWorst: number;
}>;

/**
 * In a cool garage a narrow gap changes the air less than a compressor cycle does. Doors that
 * lifted the air by this much, K, are counted apart as well; all are counted together first.
 */
const FELT_RISE_K = 2;

/** Put the marks of several winters together. */
export function sumScores(scores: readonly Score[]): Figures {
  const verdicts = scores.flatMap((s) => s.verdicts);
  const of = (kind: LabelKind) => sumKind(verdicts.filter((v) => v.label.kind === kind));
  return {
    winters: scores.length,
    kinds: {
      "door-ajar": of("door-ajar"),
      "cooling-lost": of("cooling-lost"),
      "over-cooling": of("over-cooling"),
      "probe-mute": of("probe-mute"),
    },
    feltDoors: sumKind(verdicts.filter((v) => (v.label.airRiseK ?? 0) >= FELT_RISE_K)),
    inVain: scores.reduce((sum, s) => sum + s.inVain.length, 0),
    inVainWorst: scores.reduce((most, s) => Math.max(most, s.inVain.length), 0),
  };
}

function sumKind(verdicts: readonly Verdict[]): KindFigures {
  const delays = verdicts.flatMap((v) => (v.delayMin === null ? [] : [v.delayMin]));
  delays.sort((a, b) => a - b);
  const low = delays[Math.floor((delays.length - 1) / 2)];
  const high = delays[Math.ceil((delays.length - 1) / 2)];
  return {
    events: verdicts.length,
    told: delays.length,
    inTime: verdicts.filter((v) => v.inTime).length,
    medianMin: low === undefined || high === undefined ? null : (low + high) / 2,
    maxMin: delays.at(-1) ?? null,
    causeRight: verdicts.filter((v) => v.causeRight).length,
  };
}
