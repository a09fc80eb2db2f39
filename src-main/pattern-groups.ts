/** Names of the groups of a pattern; null where it is no regular expression. */
export function groupsOf(pattern: string): readonly string[] | null {
  try {
    // An alternative that matches anything makes the pattern report its groups.
    return Object.keys(new RegExp(`${pattern}|`).exec('')?.groups ?? {});
  } catch {
    return null;
  }
}
