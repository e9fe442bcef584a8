import type { FitKind } from "../../../rules/checks/result.js";
import type { Quantity, Salt } from "../../../shared/check.js";
import { TOLERANCES } from "../../checks/make-check.js";
import { readTypedNumber } from "../../checks/typed-number.js";
import type { Config } from "../../config.js";
import type { Asker } from "./asker.js";
import {
  type CheckOptions,
  findProbe,
  measuredBy,
  quantityOf,
  type ReferenceKind,
  readFit,
  readNumber,
  readQuantity,
  readReferenceKind,
  SALT_SPAN,
  wrongUse,
} from "./options.js";

/** What a reference is known to be before anything is measured. */
type PlannedReference =
  | Readonly<{ kind: "ice" }>
  | Readonly<{ kind: "instrument"; name: string; correction: number; expanded: number }>
  /** null: as warm as the probe itself says. */
  | Readonly<{ kind: "salt"; salt: Salt; temperatureC: number | null }>;

/** What is to be checked, against what, and how. */
export type Planned = Readonly<{
  probe: Config["site"]["probes"][number];
  quantity: Quantity;
  reference: PlannedReference;
  tolerance: number;
  fit: FitKind | null;
  by: string | null;
  note: string | null;
}>;

const CERTIFIED: Readonly<Record<Quantity, { low: number; high: number }>> = {
  temperature: { low: 0.001, high: 5 },
  humidity: { low: 0.01, high: 20 },
};
const CORRECTED: Readonly<Record<Quantity, { low: number; high: number }>> = {
  temperature: { low: -10, high: 10 },
  humidity: { low: -30, high: 30 },
};
const TOLERATED: Readonly<Record<Quantity, { low: number; high: number }>> = {
  temperature: { low: 0.01, high: 10 },
  humidity: { low: 0.1, high: 30 },
};

/**
 * What the command line says, and what the keeper answers to the rest.
 *
 * @param asker null where nobody can be asked
 * @param ofFile the quantity that a file of pairs is in, null without one
 * @throws {KnownError} WRONG_USE naming what is missing or does not fit
 */
export async function planCheck(
  config: Config,
  options: CheckOptions,
  asker: Asker | null,
  ofFile: Quantity | null,
): Promise<Planned> {
  const probe = await planProbe(config, options, asker);
  const kind = options.reference === undefined ? null : readReferenceKind(options.reference);
  const quantity = await planQuantity(config, probe.id, options, kind, ofFile, asker);
  const chosen = kind ?? (await askKind(quantity, asker));
  if ((quantityOf(chosen) ?? quantity) !== quantity)
    throw wrongUse(`reference ${chosen} is not for ${quantity}`);
  const reference = await planReference(chosen, quantity, options, asker, config);
  const { tolerance, by, note } = options;
  return {
    probe,
    quantity,
    reference,
    tolerance:
      tolerance === undefined
        ? TOLERANCES[quantity]
        : readNumber("--tolerance", tolerance, quantity, "difference", TOLERATED[quantity]).value,
    fit: readFit(options.fit),
    by: by ?? null,
    note: note ?? null,
  };
}

async function planProbe(config: Config, { probe }: CheckOptions, asker: Asker | null) {
  const { probes } = config.site;
  if (probe !== undefined) return findProbe(config, probe);
  if (probes.length === 1) return probes[0]!;
  if (asker === null || probes.length === 0)
    throw wrongUse(`--probe is missing; there are ${probes.map(({ id }) => id).join(", ")}`);
  asker.say("Which probe?");
  return asker.choose(
    "Its number",
    probes.map((one) => [`${one.id}, ${one.place}`, one] as const),
  );
}

async function planQuantity(
  config: Config,
  probeId: string,
  { quantity }: CheckOptions,
  kind: ReferenceKind | null,
  ofFile: Quantity | null,
  asker: Asker | null,
): Promise<Quantity> {
  const source = config.sources.find((one) => one.probeId === probeId)!;
  const measured = measuredBy(source);
  const said = quantity === undefined ? null : readQuantity(quantity);
  if (ofFile !== null && said !== null && ofFile !== said)
    throw wrongUse(`--quantity ${said}, but the pairs are of ${ofFile}`);
  const wanted = said ?? ofFile ?? (kind === null ? null : quantityOf(kind));
  if (wanted !== null && !measured.includes(wanted))
    throw wrongUse(`${probeId} does not measure ${wanted}, only ${measured.join(", ")}`);
  if (wanted !== null) return wanted;
  if (measured.length === 1 || asker === null) return measured[0]!;
  asker.say("What of it?");
  return asker.choose(
    "Its number",
    measured.map((one) => [one, one] as const),
  );
}

async function askKind(quantity: Quantity, asker: Asker | null): Promise<ReferenceKind> {
  if (asker === null) throw wrongUse("--reference is missing: ice, instrument or a salt");
  asker.say("Against what?");
  return asker.choose(
    "Its number",
    quantity === "temperature"
      ? ([
          ["melting ice, which everybody can make", "ice"],
          ["a reference thermometer with a certificate", "instrument"],
        ] as const)
      : ([
          ["air over table salt (NaCl), 75 %RH", "NaCl"],
          ["air over magnesium chloride (MgCl2), 33 %RH", "MgCl2"],
          ["air over potassium chloride (KCl), 87 %RH", "KCl"],
          ["a reference hygrometer with a certificate", "instrument"],
        ] as const),
  );
}

async function planReference(
  kind: ReferenceKind,
  quantity: Quantity,
  options: CheckOptions,
  asker: Asker | null,
  { temperatureUnit }: Config,
): Promise<PlannedReference> {
  if (kind === "ice") return { kind };
  if (kind !== "instrument") return planSalt(kind, options);
  const { referenceName: name, referenceUncertainty, referenceCorrection } = options;
  const difference = (text: string) =>
    readTypedNumber(text, quantity, "difference", temperatureUnit)?.value ?? null;
  const missing = (option: string): never => {
    throw wrongUse(`${option} is missing; it is on the reference's certificate`);
  };
  return {
    kind,
    name:
      name ?? (await asker?.ask("What reference is it: kind, number, certificate")) ?? "not named",
    expanded:
      referenceUncertainty === undefined
        ? ((await asker?.askFor(
            "Its uncertainty (k = 2) on the certificate, for example 0.1",
            difference,
          )) ?? missing("--reference-uncertainty"))
        : readNumber(
            "--reference-uncertainty",
            referenceUncertainty,
            quantity,
            "difference",
            CERTIFIED[quantity],
          ).value,
    correction:
      referenceCorrection === undefined
        ? ((await asker?.askFor(
            "What the certificate says is to be added to what it shows",
            difference,
            "0",
          )) ?? 0)
        : readNumber(
            "--reference-correction",
            referenceCorrection,
            quantity,
            "difference",
            CORRECTED[quantity],
          ).value,
  };
}

function planSalt(salt: Salt, { saltTemperature }: CheckOptions): PlannedReference {
  if (saltTemperature === undefined) return { kind: "salt", salt, temperatureC: null };
  const typed = readNumber(
    "--salt-temperature",
    saltTemperature,
    "temperature",
    "value",
    SALT_SPAN,
  );
  return { kind: "salt", salt, temperatureC: typed.value };
}
