import { useCallback, useEffect, useRef } from 'react';

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

/** Keeps unsaved work, soon after it has changed, and at once when the window goes out of sight. Returns what does so. */
export function useAutosave({ due, mark, draft, keep }: AutosaveOptions): () => void {
  const kept = useRef<{ readonly mark: string; readonly draft: unknown } | null>(null);
  /** When the first change came that is not kept yet. */
  const since = useRef<number | null>(null);
  const latest = useRef({ due, mark, draft, keep });
  latest.current = { due, mark, draft, keep };
  const keepNow = useCallback(() => {
    const now = latest.current;
    since.current = null;
    if (!now.due || (kept.current?.mark === now.mark && kept.current.draft === now.draft)) return;
    kept.current = { mark: now.mark, draft: now.draft };
    void now.keep();
  }, []);
  useEffect(() => {
    if (!due || (kept.current?.mark === mark && kept.current.draft === draft)) {
      since.current = null;
      return;
    }
    since.current ??= performance.now();
    const left = LONGEST_MS - (performance.now() - since.current);
    const timer = setTimeout(keepNow, Math.max(0, Math.min(PAUSE_MS, left)));
    return () => clearTimeout(timer);
  }, [due, mark, draft, keepNow]);
  useEffect(() => {
    const hide = () => {
      if (document.visibilityState === 'hidden') keepNow();
    };
    document.addEventListener('visibilitychange', hide);
    return () => document.removeEventListener('visibilitychange', hide);
  }, [keepNow]);
  return keepNow;
}
