/** Every failure an operator can meet. DEVELOPERS.md gives each a cure. */
export const ERROR_CODES = ["CONFIG_INVALID"] as const;
export type ErrorCode = (typeof ERROR_CODES)[number];

/** A failure that a person can look up. It is logged and mailed: no secrets in it. */
export class KnownError extends Error {
  override readonly name = "KnownError";
  readonly code: ErrorCode;

  constructor(code: ErrorCode, message: string, options?: ErrorOptions) {
    super(`${code}: ${message}`, options);
    this.code = code;
  }
}
