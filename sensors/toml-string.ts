// Beyond what JSON escapes: DEL and the C1 controls, and the characters that break or turn lines.
const UNSAFE = /[\u007f-\u009f\u200b-\u200f\u2028-\u202e\u2060-\u206f\ufeff]/g;
const LONE_SURROGATE = /\p{Surrogate}/gu;

/**
 * Any text as a basic string of TOML, quotes included: one line, harmless in a terminal, and read
 * back as the same text. A lone surrogate, which TOML cannot hold, becomes U+FFFD.
 *
 * Source: TOML 1.0.0, section String; its escapes include all that JSON's writer uses.
 */
export function quoteToml(text: string): string {
  return JSON.stringify(text.replace(LONE_SURROGATE, "\ufffd")).replace(
    UNSAFE,
    (character) => `\\u${character.charCodeAt(0).toString(16).padStart(4, "0")}`,
  );
}
