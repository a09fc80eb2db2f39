import type { ReactNode } from 'react';

interface ScrollRegionProps {
  readonly label: string;
  readonly className: string;
  readonly children: ReactNode;
}

/** Content that scrolls inside the page: without anything to press in it, only the region itself can take the keys. */
export function ScrollRegion({ label, className, children }: ScrollRegionProps) {
  return (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: a scrolling region must be reached by keyboard (WCAG 2.1.1).
    <section className={className} aria-label={label} tabIndex={0}>
      {children}
    </section>
  );
}
