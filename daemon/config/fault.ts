/** The way to a key: table names, and the place in an array of tables. */
export type KeyPath = readonly (string | number)[];

/** One thing wrong with a config. `shown` replaces the value where printing it could leak. */
export type Fault = Readonly<{ path: KeyPath; expected: string; shown?: string }>;

type Lines = (path: KeyPath) => number | null;

/** A config as TOML gave it. */
export type RawTable = Readonly<Record<string, unknown>>;

/** Whether a TOML value is a table, and so has keys of its own. */
export function isTable(value: unknown): value is RawTable {
  return typeof value === "object" && value !== null && !Array.isArray(value);
}

/** The value at a path, undefined where there is none. */
export function valueAt(raw: unknown, path: KeyPath): unknown {
  return path.reduce<unknown>((value, step) => {
    if (typeof value !== "object" || value === null) return undefined;
    return (value as Record<string | number, unknown>)[step];
  }, raw);
}

/** All faults as one message, in the order in which their keys stand in the file. */
export function describeFaults(
  file: string,
  raw: RawTable,
  lineOf: Lines,
  faults: readonly Fault[],
): string {
  const lines = faults
    .map((fault) => ({ line: lineOf(fault.path), fault }))
    .sort((a, b) => (a.line ?? Infinity) - (b.line ?? Infinity))
    .map(({ line, fault }) => `  ${line === null ? "" : `line ${line}: `}${say(fault, raw)}`);
  const count = faults.length === 1 ? "1 fault" : `${faults.length} faults`;
  return `${file} has ${count}\n${lines.join("\n")}`;
}

function say(fault: Fault, raw: RawTable): string {
  const value = valueAt(raw, fault.path);
  const key = nameKey(fault.path, raw);
  if (fault.shown === undefined && value === undefined)
    return `${key} is missing: ${fault.expected}`;
  return `${key} = ${fault.shown ?? show(value)}: ${fault.expected}`;
}

/** A key as a person would point at it: `site.timezone`, `probe[shed-air].topic`. */
function nameKey(path: KeyPath, raw: RawTable): string {
  return path.reduce<string>((name, step, depth) => {
    if (typeof step === "string") return name === "" ? brief(step) : `${name}.${brief(step)}`;
    const id = valueAt(raw, [...path.slice(0, depth + 1), "id"]);
    return `${name}[${typeof id === "string" ? brief(id) : `#${step + 1}`}]`;
  }, "");
}

/** The beginning of a text that is too long to read. */
const brief = (text: string): string => (text.length > 80 ? `${text.slice(0, 77)}...` : text);

/** A value in one line, short enough to read. */
function show(value: unknown): string {
  if (isTable(value)) return "a table";
  const text = JSON.stringify(value, (_key, inner) =>
    typeof inner === "bigint" ? inner.toString() : inner,
  );
  return brief(text);
}
