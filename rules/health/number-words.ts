const MINUS = "\u2212";

/** A value that a probe said, to a tenth, with a true minus. */
export const numberWords = (value: number): string => value.toFixed(1).replace("-", MINUS);
