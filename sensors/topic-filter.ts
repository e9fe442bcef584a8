/**
 * What is wrong with an MQTT topic filter, as one clause without a subject, or null.
 *
 * Source: MQTT 3.1.1 (OASIS Standard), sections 4.7.1 and 4.7.3; 1.5.3 for U+0000 and length.
 * Shared subscriptions (MQTT 5, section 4.8.2) are refused: each message would reach only one of
 * those who share, and Drowse needs them all.
 */
export function findTopicFilterFault(filter: string): string | null {
  if (filter === "") return "is empty";
  if (Buffer.byteLength(filter) > 65_535) return "is longer than 65,535 bytes";
  if (filter.includes("\0")) return "holds U+0000";
  if (filter.startsWith("$share/")) return "is a shared subscription";
  const levels = filter.split("/");
  for (const [index, level] of levels.entries()) {
    if (level.includes("#") && (level !== "#" || index < levels.length - 1)) {
      return "has a # that is not the whole last level";
    }
    if (level.includes("+") && level !== "+") return "has a + that is not a whole level";
  }
  return null;
}

/**
 * Whether a topic is one that a filter asks for.
 *
 * A library was looked for: the matcher inside aedes (qlobber) throws on topics of over a
 * hundred levels, which anyone may publish, and leaves the rule for "$" to its caller.
 *
 * @param filter a filter without fault, see `findTopicFilterFault`
 *
 * Source: MQTT 3.1.1 (OASIS Standard), section 4.7.
 */
export function matchesTopic(filter: string, topic: string): boolean {
  // [MQTT-4.7.2-1]: a leading wildcard matches no topic that begins with "$".
  if (topic.startsWith("$") && (filter.startsWith("#") || filter.startsWith("+"))) return false;
  const wanted = filter.split("/");
  const levels = topic.split("/");
  for (const [index, level] of wanted.entries()) {
    // "#" stands for the parent level too (section 4.7.1.2), so a topic may end before it.
    if (level === "#") return true;
    if (index >= levels.length) return false;
    if (level !== "+" && level !== levels[index]) return false;
  }
  return wanted.length === levels.length;
}

/**
 * Whether every topic that `filter` asks for is one that `right` asks for too.
 *
 * @param right a filter without fault, see `findTopicFilterFault`
 * @param filter any text; one with a fault is covered by nothing
 */
export function coversFilter(right: string, filter: string): boolean {
  if (findTopicFilterFault(filter) !== null) return false;
  if (filter.startsWith("$") && /^[+#]/.test(right)) return false;
  const allowed = right.split("/");
  const wanted = filter.split("/");
  for (const [index, level] of allowed.entries()) {
    if (level === "#") return true;
    const asked = wanted[index];
    if (asked === undefined || asked === "#") return false;
    if (level !== "+" && level !== asked) return false;
  }
  return allowed.length === wanted.length;
}
