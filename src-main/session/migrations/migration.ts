/** One step from a format to the next. Each has a numbered file of its own and never changes once it has been shipped. */
export interface Migration {
  /** Format that it takes, e.g. `hubtrue-session/0`. */
  readonly from: string;
  readonly to: string;
  /**
   * The document in the newer format; what the older one did not have gets the value that says so. The result is checked
   * like any other session.
   */
  readonly up: (document: Readonly<Record<string, unknown>>) => Record<string, unknown>;
}
