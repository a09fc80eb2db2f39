import { useRef } from 'react';

/**
 * The plain value of the render before, as long as the new one says the same: what is drawn from it is not drawn again where
 * a disc arrives once more, now with its causes.
 */
export function useSame<T>(value: T): T {
  const kept = useRef(value);
  if (kept.current !== value && JSON.stringify(kept.current) !== JSON.stringify(value)) kept.current = value;
  return kept.current;
}
