/** What a worker keeps of recent work, so that the next request need not begin at the disk: bounded in number and size. */

export interface Kept<Value> {
  get(key: string): Value | undefined;
  /** Keeps the value; those used longest ago go first. One that alone is too large is not kept. */
  set(key: string, value: Value): void;
}

export interface KeptBounds<Value> {
  readonly mostEntries: number;
  readonly mostBytes: number;
  readonly bytesOf: (value: Value) => number;
}

export function createKept<Value>({ mostEntries, mostBytes, bytesOf }: KeptBounds<Value>): Kept<Value> {
  // A map keeps the order of insertion: the first entry is the one used longest ago.
  const entries = new Map<string, Value>();
  const bytes = (): number => [...entries.values()].reduce((sum, value) => sum + bytesOf(value), 0);
  return {
    get(key) {
      const value = entries.get(key);
      if (value === undefined) return undefined;
      entries.delete(key);
      entries.set(key, value);
      return value;
    },
    set(key, value) {
      entries.delete(key);
      entries.set(key, value);
      while (entries.size > mostEntries || (entries.size > 0 && bytes() > mostBytes)) {
        const [oldest] = entries.keys();
        if (oldest === undefined) return;
        entries.delete(oldest);
      }
    },
  };
}
