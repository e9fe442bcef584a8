/**
 * What every answer carries.
 *
 * - Content-Security-Policy (W3C, level 3): nothing but our own style, script and picture; no
 *   script or style in a page; forms lead to us alone; no page may frame us.
 * - Referrer-Policy: `same-origin`, since with `no-referrer` a browser would hide the origin of
 *   our own posts as well (Fetch standard, section 3.2).
 * - Cache-Control: a page is as of now, and a shared machine is to keep none.
 */
export const SAFE_HEADERS: Readonly<Record<string, string>> = {
  "content-security-policy":
    "default-src 'none'; style-src 'self'; script-src 'self'; img-src 'self'; " +
    "form-action 'self'; base-uri 'none'; frame-ancestors 'none'",
  "x-content-type-options": "nosniff",
  "x-frame-options": "DENY",
  "referrer-policy": "same-origin",
  "cross-origin-resource-policy": "same-origin",
  "permissions-policy": "camera=(), geolocation=(), microphone=()",
  "x-robots-tag": "noindex, nofollow",
  "cache-control": "no-store",
};
