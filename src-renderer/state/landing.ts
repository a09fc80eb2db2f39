/** Where the focus goes when what held it is gone: a sample that was opened, a view that was left. */
import { useEffect, useRef } from 'react';

const HEADING = 'main h1, main h2';

/** Whether a press of a key belongs to nothing in particular: no control has the focus. */
export function isFreeKey({ target }: Pick<KeyboardEvent, 'target'>): boolean {
  return target === document.body || (target instanceof HTMLElement && target.matches(HEADING));
}

/**
 * Puts the focus on the heading of the view when what had it is gone from the page. Keyboards go on from there, and screen readers
 * say what has come.
 *
 * @param disc another disc may have taken the place of what had the focus
 * @param view and another view as well
 */
export function useLanding(disc: object | null, view: string | undefined): void {
  const last = useRef<EventTarget | null>(null);
  useEffect(() => {
    const note = ({ target }: FocusEvent): void => {
      last.current = target;
    };
    document.addEventListener('focusin', note);
    return () => document.removeEventListener('focusin', note);
  }, []);
  // biome-ignore lint/correctness/useExhaustiveDependencies: they only say when to look.
  useEffect(() => {
    const isGone = last.current instanceof Element && !last.current.isConnected;
    if (!isGone || (document.activeElement !== null && document.activeElement !== document.body)) return;
    const heading = document.querySelector<HTMLElement>(HEADING);
    if (heading === null) return;
    heading.tabIndex = -1;
    heading.focus({ preventScroll: true });
  }, [disc, view]);
}
