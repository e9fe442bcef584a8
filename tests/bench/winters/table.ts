import type { Figures, KindFigures } from "./figures.js";

const HEAD = [
  "fridge".padEnd(18),
  "judge".padEnd(7),
  "door told".padStart(10),
  "in time".padStart(8),
  "(felt)".padStart(10),
  "med/max min".padStart(14),
  "cause".padStart(6),
  "dead told".padStart(10),
  "in time".padStart(8),
  "med/max min".padStart(14),
  "cause".padStart(6),
  "cold told".padStart(10),
  "in time".padStart(8),
  "mute told".padStart(10),
  "max min".padStart(8),
  "vain/winter (worst)".padStart(20),
].join("");

/** The line above the rows. "(felt)" are doors in time among those that moved the air. "dead" is a dead compressor, "cold" a thermostat gone cold. */
export function headTable(): string {
  return HEAD;
}

/** One judge on one fridge, or on all of them, as a line. */
export function rowTable(fridge: string, judge: string, figures: Figures): string {
  const { kinds } = figures;
  const door = kinds["door-ajar"];
  const dead = kinds["cooling-lost"];
  const cold = kinds["over-cooling"];
  const mute = kinds["probe-mute"];
  const vain = (figures.inVain / figures.winters).toFixed(1);
  return [
    fridge.slice(0, 17).padEnd(18),
    judge.padEnd(7),
    share(door.told, door.events).padStart(10),
    share(door.inTime, door.events).padStart(8),
    `(${share(figures.feltDoors.inTime, figures.feltDoors.events)})`.padStart(10),
    delays(door).padStart(14),
    causes(door).padStart(6),
    share(dead.told, dead.events).padStart(10),
    share(dead.inTime, dead.events).padStart(8),
    delays(dead).padStart(14),
    causes(dead).padStart(6),
    share(cold.told, cold.events).padStart(10),
    share(cold.inTime, cold.events).padStart(8),
    share(mute.told, mute.events).padStart(10),
    minutes(mute.maxMin).padStart(8),
    `${vain} (${figures.inVainWorst})`.padStart(20),
  ].join("");
}

function delays(kind: KindFigures): string {
  return `${minutes(kind.medianMin)}/${minutes(kind.maxMin)}`;
}

function causes(kind: KindFigures): string {
  return kind.told === 0 ? "-" : `${Math.round((100 * kind.causeRight) / kind.told)}%`;
}

function share(part: number, whole: number): string {
  return `${part}/${whole}`;
}

function minutes(value: number | null): string {
  return value === null ? "-" : value.toFixed(value < 100 ? 1 : 0);
}
