/** Why a message, or a part of one, became no reading; with what an operator should know of it. */
export const REJECT_REASONS = {
  unclaimed: "no probe's topic matches",
  "too-large": "the payload is over 64 KiB",
  "not-a-number": "what stands there is no number that can be read",
  "not-json": "the payload is no JSON text in UTF-8",
  "not-senml": "the payload is no SenML pack (RFC 8428) that can be used",
  "pointer-missing": "the payload has nothing at the place configured",
  "unit-unknown": "the SenML unit is none of Cel, K and %RH",
  ambiguous: "the SenML pack has several candidates and the probe names none of them",
  "out-of-range": "a number far beyond what even a broken probe says",
  "stale-retained": "a retained message without a usable time of its own",
  "time-unknown": "it cannot be said when the reading was taken",
  "not-allowed": "who sent it has no right to publish on that topic",
  "too-often": "the probe speaks far oftener than its interval",
} as const;

export type RejectReason = keyof typeof REJECT_REASONS;
