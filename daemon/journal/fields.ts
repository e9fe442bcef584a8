import { parseDecimal } from "../../sensors/decimal.js";
import { type CalendarDay, isCalendarDay } from "../../shared/calendar-day.js";

/** What was typed, by the names of fields; what was left out is absent or empty. */
export type Typed = Readonly<Record<string, string | undefined>>;

/** What is wrong, by the names of fields: in each case what was expected. */
export type Faults = Readonly<Record<string, string>>;

/** Far beyond any keeper's harvest; our choice. */
const COCOONS_MOST = 1_000_000;
const WORDS_MOST = 2_000;
const LINE_MOST = 100;

/**
 * Reads typed fields and gathers what is wrong with them, so that all is said at once. A value
 * that is wrong is read as something harmless; nobody may use it while there are faults.
 */
export class FieldReader {
  readonly #typed: Typed;
  readonly #faults: Record<string, string> = {};

  constructor(typed: Typed) {
    this.#typed = typed;
  }

  /** What is wrong so far; null while nothing is. */
  get faults(): Faults | null {
    return Object.keys(this.#faults).length === 0 ? null : this.#faults;
  }

  /** The first fault of a field is the one that is told. */
  fault(name: string, expected: string): void {
    this.#faults[name] ??= expected;
  }

  /** A field as it was typed, without space around it. */
  text(name: string): string {
    return this.#typed[name]?.trim() ?? "";
  }

  isGiven(name: string): boolean {
    return this.text(name) !== "";
  }

  /** One line of text, such as the name of a box. */
  line(name: string): string {
    return this.#bounded(name, LINE_MOST, /\p{Cc}/u, "a line of at most 100 characters");
  }

  /** Free words, lines and all. */
  words(name: string): string {
    // biome-ignore lint/suspicious/noControlCharactersInRegex: all but tab and line ends
    const control = /[\u0000-\u0008\u000b\u000c\u000e-\u001f\u007f]/;
    const expected = "at most 2000 characters, no control characters";
    return this.#bounded(name, WORDS_MOST, control, expected).replace(/\r\n?/g, "\n");
  }

  /** A name by which things point at one another. */
  id(name: string): string {
    const text = this.text(name);
    if (!/^[A-Za-z0-9][\w-]{0,39}$/.test(text))
      this.fault(name, "expected 1 to 40 letters, digits, - or _, for example hedge-2025");
    return text;
  }

  /** A number of cocoons; `otherwise` where none was given. */
  cocoons(name: string, least: number, otherwise: number | null = null): number {
    if (!this.isGiven(name) && otherwise !== null) return otherwise;
    const value = parseDecimal(this.text(name));
    if (value !== null && Number.isInteger(value) && value >= least && value <= COCOONS_MOST)
      return value;
    this.fault(name, `expected a whole number from ${least} to ${COCOONS_MOST}`);
    return 0;
  }

  /** A number above `above` and up to `most`; `otherwise` where none was given. */
  amount(name: string, above: number, most: number, unit: string, otherwise?: number): number {
    if (!this.isGiven(name) && otherwise !== undefined) return otherwise;
    const value = parseDecimal(this.text(name));
    if (value !== null && value > above && value <= most) return value;
    this.fault(name, `expected a number above ${above} and up to ${most} ${unit}`);
    return 1;
  }

  /** A day of the calendar; null where none was given. */
  day(name: string): CalendarDay | null {
    if (!this.isGiven(name)) return null;
    const text = this.text(name);
    if (isCalendarDay(text)) return text;
    this.fault(name, "expected a day such as 2025-10-04");
    return null;
  }

  #bounded(name: string, most: number, barred: RegExp, expected: string): string {
    const text = this.text(name);
    if (text.length > most || barred.test(text)) this.fault(name, `expected ${expected}`);
    return text;
  }
}
