import { useEffect, useRef } from 'react';

/** Time without a change after which work is kept, and the longest time that ongoing changes may put it off; ms. */
const PAUSE_MS = 3_000;
const LONGEST_MS = 20_000;

interface AutosaveOptions {
  /** Whether there is anything that would be lost. */
  readonly due: boolean;
  /** Both change with the work, and only with it. */
  readonly mark: string;
  readonly draft: unknown;
  keep(): Promise<void>;
}

/** Keeps unsaved work, soon after it has changed. */
export function useAutosave({ due, mark, draft, keep }: AutosaveOptions): void {
  const kept = useRef<{ readonly mark: string; readonly draft: unknown } | null>(null);
  /** When the first change came that is not kept yet. */
  const since = useRef<number | null>(null);
  const latest = useRef(keep);
  latest.current = keep;
  useEffect(() => {
    if (!due || (kept.current?.mark === mark && kept.current.draft === draft)) {
      since.current = null;
      return;
    }
    since.current ??= performance.now();
    const left = LONGEST_MS - (performance.now() - since.current);
    const timer = setTimeout(
      () => {
        since.current = null;
        kept.current = { mark, draft };
        void latest.current();
      },
      Math.max(0, Math.min(PAUSE_MS, left)),
    );
    return () => clearTimeout(timer);
  }, [due, mark, draft]);
}
