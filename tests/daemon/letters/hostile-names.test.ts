import fc from "fast-check";
import { simpleParser } from "mailparser";
import { createTransport } from "nodemailer";
import { expect, test } from "vitest";
import { composeLetter, composeTrial } from "../../../daemon/letters/compose.js";
import { mailDomainOf, messageIdOf } from "../../../daemon/letters/message-id.js";
import { oneLine } from "../../../daemon/letters/one-line.js";
import { messageOf } from "../../../daemon/mail/message.js";
import { CONTEXT, finding, NIGHT_MS, QUILLMERE } from "./quillmere.js";

/** Names as an enemy would choose them, beside any other text. */
const name = fc.oneof(
  fc
    .array(fc.integer({ min: 0, max: 0x2fff }), { maxLength: 80 })
    .map((points) => String.fromCodePoint(...points)),
  fc.constantFrom(
    "<script>alert(1)</script>",
    `"><img src=x onerror=alert(1)>`,
    "shed\r\nBcc: all@example.org",
    "shed\n\n<b>body</b>",
    "=?UTF-8?Q?=0D=0ABcc:_all@example.org?=",
    "\u202egnp.exe",
    "</style><script>",
    "&lt;script&gt;",
  ),
);

const transport = createTransport({ streamTransport: true, buffer: true, newline: "windows" });
const PLAINLY = { skipHtmlToText: true, skipTextToHtml: true, skipImageLinks: true } as const;
const tagsOf = (html: string): string[] => html.match(/<\/?[a-z!][^\s>]*/gi) ?? [];

function letterNaming(site: string, chamber: string, compared: string) {
  const place = { ...QUILLMERE.chambers[0]!, id: chamber };
  const context = { ...CONTEXT, site: { ...QUILLMERE, name: site, chambers: [place] } };
  const told = finding({ chamberId: chamber, comparedWith: compared, excursionId: chamber });
  return composeLetter(told, { ...context, trouble: compared })!;
}

test("no name adds a header, a recipient or a tag to a letter", async () => {
  const plain = letterNaming("site", "place", "plain");
  await fc.assert(
    fc.asyncProperty(name, name, name, async (site, chamber, compared) => {
      const letter = letterNaming(site, chamber, compared);
      // A clause that comes to nothing drops its sentence, never a tag more.
      const allowed = new Set(tagsOf(plain.html));
      expect(tagsOf(letter.html).every((tag) => allowed.has(tag))).toBe(true);
      expect(tagsOf(letter.html).length).toBeLessThanOrEqual(tagsOf(plain.html).length);
      expect(letter.subject).not.toMatch(/[\r\n]/);
      const sent = await transport.sendMail(messageOf(letter, "a@example.org", ["b@example.org"]));
      const mail = await simpleParser(sent.message as Buffer, PLAINLY);
      const headers = [...mail.headers.keys()].sort();
      const expected =
        "auto-submitted content-language content-type date from message-id mime-version subject to";
      expect(headers).toEqual(expected.split(" "));
      expect(sent.envelope.to).toEqual(["b@example.org"]);
      expect(mail.html).toBe(letter.html);
    }),
    { seed: 7, numRuns: 60 },
  );
});

test("a trial letter takes no harm from its site's name", () => {
  const plain = composeTrial(NIGHT_MS, CONTEXT);
  fc.assert(
    fc.property(name, (site) => {
      const letter = composeTrial(NIGHT_MS, { ...CONTEXT, site: { ...QUILLMERE, name: site } });
      expect(tagsOf(letter.html)).toEqual(tagsOf(plain.html));
      expect(letter.text.split("\n")).toHaveLength(plain.text.split("\n").length);
    }),
    { seed: 7, numRuns: 300 },
  );
});

test("a Message-ID keeps to the grammar whatever the letter's id holds, and ids stay apart", () => {
  // RFC 5322 section 3.2.3: atext; section 3.6.4: "<" dot-atom-text "@" dot-atom-text ">".
  const atom = "[A-Za-z0-9!#$%&'*+/=?^_`{|}~-]+";
  const grammar = new RegExp(`^<${atom}(\\.${atom})*@${atom}(\\.${atom})*>$`);
  fc.assert(
    fc.property(name, name, (one, other) => {
      const [a, b] = [messageIdOf(one, "example.org"), messageIdOf(other, "example.org")];
      expect(a).toMatch(grammar);
      // RFC 5322 section 2.1.1: a line should not be longer than 78 characters; with its name,
      // a folded Message-ID stands on a line of its own, and 998 is the most that is allowed.
      expect(a.length).toBeLessThan(200);
      expect(a === b).toBe(one === other);
    }),
    { seed: 7, numRuns: 500 },
  );
});

test("the domain comes from the From address, or is one that is kept for no mail", () => {
  expect(mailDomainOf("Drowse <drowse@example.org>")).toBe("example.org");
  expect(mailDomainOf("drowse@example.org")).toBe("example.org");
  // "bücher" in Punycode (RFC 3492) is "bcher-kva": from memory.
  expect(mailDomainOf("Drowse <drowse@b\u00fccher.example>")).toBe("xn--bcher-kva.example");
  for (const from of [null, "", "nobody", "x <y@>", "x <y@a b>", "x@y>\r\nBcc: z"])
    expect(mailDomainOf(from), String(from)).toBe("drowse.invalid");
});

test("a name becomes one line without marks that turn the writing direction", () => {
  expect(oneLine("shed\r\n\tBcc:\u2028 x\u202e")).toBe("shed Bcc: x");
  expect(oneLine("é".repeat(300))).toHaveLength(200);
});
