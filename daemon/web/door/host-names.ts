import { isIP } from "node:net";
import { hostname } from "node:os";

/** The name or address in a Host header, without its port: "shed.example", "[::1]" as "::1". */
export function hostNameOf(host: string): string | null {
  const match = /^(?:\[([0-9a-f:.]{2,45})\]|([^\s:/?#@[\]\\]{1,253}))(?::\d{1,5})?$/i.exec(host);
  const name = match?.[1] ?? match?.[2];
  return name === undefined ? null : name.toLowerCase().replace(/\.$/, "");
}

/**
 * The names by which this Drowse may be asked, beside any address: those of the config, that on
 * which it listens, and this machine's own, as it is known on the local network too (RFC 6762).
 */
export function ownNames(listenHost: string, names: readonly string[]): ReadonlySet<string> {
  const machine = hostname().toLowerCase();
  const given = [...names, listenHost].map((name) => name.toLowerCase());
  return new Set(["localhost", machine, `${machine}.local`, ...given]);
}

/**
 * Whether a Host header means this Drowse.
 *
 * A page elsewhere can have its own name lead to our address ("DNS rebinding") and would then read
 * us as if it were us. It cannot have a bare address as its name, so any address will do.
 */
export function isOwnHost(host: string | undefined, own: ReadonlySet<string>): boolean {
  const name = host === undefined ? null : hostNameOf(host);
  return name !== null && (isIP(name) !== 0 || own.has(name));
}
