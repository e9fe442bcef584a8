import { parseArgs } from "node:util";
import { wholeNumber } from "../numbers.js";

export const USAGE = `Labelled winters: Drowse's judge beside a plain rule.
  --seeds N        winters for each fridge (default 1)
  --from-seed N    the first seed (default 1)
  --interval S     60 or 300, seconds between readings (default 60)
  --no-humidity    temperature-only probes
  --box            a second probe, in the box
  --fridge WORD    only named fridges whose name holds WORD
  --drawn N        N fridges drawn at random instead of the named ones
  --apart N        N fridges of a physics written apart, each drawn with its winter from one seed
  --hard           fridges with abrupt defrosts and narrow gaps; long openings, restocking,
                   power cuts and heat waves too
  --young          five days of a fridge that nobody knows yet, with one door left ajar
  --misses         say what was missed, late, of wrong cause or in vain
  --write DIR      write each winter for replay into DIR`;

/** What was asked for. */
export type Options = ReturnType<typeof readOptions>;

/**
 * @throws {TypeError} on an option that does not exist, a value missing or in excess, or one that
 * is no whole number where it takes one
 */
export function readOptions(words: readonly string[]) {
  const { values } = parseArgs({
    args: [...words],
    options: {
      seeds: { type: "string", default: "1" },
      "from-seed": { type: "string", default: "1" },
      interval: { type: "string", default: "60" },
      "no-humidity": { type: "boolean", default: false },
      box: { type: "boolean", default: false },
      fridge: { type: "string", default: "" },
      drawn: { type: "string", default: "0" },
      apart: { type: "string" },
      hard: { type: "boolean", default: false },
      young: { type: "boolean", default: false },
      misses: { type: "boolean", default: false },
      write: { type: "string" },
      help: { type: "boolean", default: false },
    },
  });
  const { apart } = values;
  return {
    ...values,
    seeds: wholeNumber("seeds", values.seeds),
    "from-seed": wholeNumber("from-seed", values["from-seed"]),
    interval: wholeNumber("interval", values.interval),
    drawn: wholeNumber("drawn", values.drawn, 0),
    apart: apart === undefined ? undefined : wholeNumber("apart", apart),
  };
}

/** Why these cannot be had together, as a sentence; null where they can. */
export function refuseApart(options: Options): string | null {
  const { apart, seeds, fridge, drawn, hard, young, box, write } = options;
  if (apart === undefined) return null;
  const others = Object.entries({
    "--hard": hard,
    "--young": young,
    "--drawn": drawn > 0,
    "--box": box,
    "--fridge": fridge !== "",
    "--write": write !== undefined,
    "--seeds": seeds > 1,
  });
  const [other] = others.find(([, given]) => given) ?? [];
  if (other === undefined) return null;
  return (
    `${other} does not go with --apart: one seed draws such a fridge, its one probe and its ` +
    "winter whole; choose them by --from-seed, --interval and --no-humidity"
  );
}
