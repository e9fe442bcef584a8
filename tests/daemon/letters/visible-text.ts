const CHARACTERS: Readonly<Record<string, string>> = {
  "&amp;": "&",
  "&lt;": "<",
  "&gt;": ">",
  "&quot;": '"',
  "&#39;": "'",
  "&nbsp;": " ",
};

/** What a reader sees of one of our letters: its body without tags, entities turned back. */
export function visibleText(html: string): string {
  const body = html.replace(/^[\s\S]*<body[^>]*>/, "");
  return body
    .replace(/<[^>]*>/g, "\n")
    .replace(/&(?:amp|lt|gt|quot|#39|nbsp);/g, (entity) => CHARACTERS[entity]!);
}
