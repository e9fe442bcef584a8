import { generateKeyPairSync, randomBytes, sign } from "node:crypto";

/** One DER element (ITU-T X.690): tag, length, contents. */
function der(tag: number, ...contents: readonly Buffer[]): Buffer {
  const body = Buffer.concat(contents);
  const length =
    body.length < 128
      ? Buffer.from([body.length])
      : body.length < 256
        ? Buffer.from([0x81, body.length])
        : Buffer.from([0x82, body.length >> 8, body.length & 0xff]);
  return Buffer.concat([Buffer.from([tag]), length, body]);
}

const SEQUENCE = 0x30;
const oid = (hex: string): Buffer => der(0x06, Buffer.from(hex, "hex"));
const COMMON_NAME = oid("550403");
const SUBJECT_ALT_NAME = oid("551d11");
const ECDSA_WITH_SHA256 = der(SEQUENCE, oid("2a8648ce3d040302"));

/**
 * A key and a certificate that signs itself, for 127.0.0.1 and localhost, good for a day either
 * side of now (RFC 5280 section 4.1). Made anew in each run, so that no key lies in the project.
 */
export function makeCertificate(): { key: string; cert: string } {
  const { privateKey, publicKey } = generateKeyPairSync("ec", { namedCurve: "P-256" });
  const utc = (offsetMs: number): Buffer => {
    const stamp = new Date(Date.now() + offsetMs).toISOString().replace(/[-:T]|\.\d+/g, "");
    return der(0x17, Buffer.from(stamp.slice(2)));
  };
  const commonName = der(SEQUENCE, COMMON_NAME, der(0x0c, Buffer.from("drowse test")));
  const name = der(SEQUENCE, der(0x31, commonName));
  const day = 86_400_000;
  const names = der(
    SEQUENCE,
    der(0x82, Buffer.from("localhost")),
    der(0x87, Buffer.from([127, 0, 0, 1])),
  );
  const extensions = der(0xa3, der(SEQUENCE, der(SEQUENCE, SUBJECT_ALT_NAME, der(0x04, names))));
  const toSign = der(
    SEQUENCE,
    der(0xa0, der(0x02, Buffer.from([2]))),
    der(0x02, Buffer.concat([Buffer.from([1]), randomBytes(8)])),
    ECDSA_WITH_SHA256,
    name,
    der(SEQUENCE, utc(-day), utc(day)),
    name,
    publicKey.export({ type: "spki", format: "der" }),
    extensions,
  );
  const signature = der(0x03, Buffer.from([0]), sign("sha256", toSign, privateKey));
  const whole = der(SEQUENCE, toSign, ECDSA_WITH_SHA256, signature);
  const lines = whole.toString("base64").replace(/.{64}/g, "$&\n");
  return {
    key: privateKey.export({ type: "pkcs8", format: "pem" }).toString(),
    cert: `-----BEGIN CERTIFICATE-----\n${lines}\n-----END CERTIFICATE-----\n`,
  };
}
