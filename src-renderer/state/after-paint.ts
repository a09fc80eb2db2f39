import { startTransition, useEffect, useState } from 'react';

/** Runs after the next picture of the page; returns what calls it off. */
export function afterPaint(work: () => void): () => void {
  let timer: ReturnType<typeof setTimeout> | undefined;
  const frame = requestAnimationFrame(() => {
    timer = setTimeout(work);
  });
  return () => {
    cancelAnimationFrame(frame);
    clearTimeout(timer);
  };
}

/** False until the first picture of a component has been painted: what may come later need not hold that picture up. */
export function usePainted(): boolean {
  const [painted, setPainted] = useState(false);
  useEffect(() => afterPaint(() => startTransition(() => setPainted(true))), []);
  return painted;
}
