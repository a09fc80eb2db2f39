/** Where the focus goes in the plan editor when a press of a key makes or removes parts of it. */
import { type RefObject, useEffect, useRef } from 'react';

/** What of a part is written in first. */
const FIELDS = 'input, select, textarea';

/**
 * Puts the focus on the first field of what was added to a list, where the writing goes on: a new part stands before the
 * button that made it, and the way back to it would be long by key.
 *
 * @returns to be attached to the list, and to be called where an entry is added
 */
export function useFocusOnAdded<List extends HTMLElement>(
  count: number,
): [RefObject<List | null>, () => void] {
  const list = useRef<List>(null);
  const before = useRef<number | null>(null);
  useEffect(() => {
    if (before.current === null || count <= before.current) return;
    before.current = null;
    list.current?.lastElementChild?.querySelector<HTMLElement>(FIELDS)?.focus();
  }, [count]);
  return [
    list,
    () => {
      before.current = count;
    },
  ];
}

/** Puts the focus on the heading of the part that has come when the button that led there is gone. */
export function useFocusOnPart(part: string): RefObject<HTMLHeadingElement | null> {
  const heading = useRef<HTMLHeadingElement>(null);
  const shown = useRef(part);
  useEffect(() => {
    if (shown.current === part) return;
    shown.current = part;
    const held = document.activeElement;
    if (heading.current === null || (held !== null && held !== document.body)) return;
    heading.current.focus({ preventScroll: true });
  }, [part]);
  return heading;
}
