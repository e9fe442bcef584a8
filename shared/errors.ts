/** Every failure an operator can meet. DEVELOPERS.md gives each a cure. */
export const ERROR_CODES = [
  "CONFIG_INVALID",
  "CONFIG_MISSING",
  "WRONG_USE",
  "REPLAY_FAULTY",
  "EXCURSION_UNKNOWN",
  "JOURNAL_FAULTY",
  "CHECK_REFUSED",
  "CHECK_UNSTEADY",
  "CHECK_UNKNOWN",
  "PAIRS_FAULTY",
  "BROKER_OPEN",
  "BROKER_PORT_TAKEN",
  "BROKER_LISTEN",
  "BROKER_UNREACHABLE",
  "BROKER_REFUSED",
  "STORE_TOO_NEW",
  "STORE_OUTDATED",
  "STORE_FOREIGN",
  "STORE_UNWRITABLE",
  "STORE_MISSING",
  "STORE_BUSY",
  "STORE_LOCKED",
  "STORE_DAMAGED",
  "STORE_FULL",
  "STORE_COPY_REFUSED",
  "MAIL_UNREACHABLE",
  "MAIL_REFUSED",
  "LETTER_NOT_WRITTEN",
  "MAIL_PUT_OFF",
  "REHEARSAL_REFUSED",
  "PAGE_PORT_TAKEN",
  "PAGE_LISTEN",
] as const;
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
