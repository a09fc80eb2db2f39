interface HitProps {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
  readonly title: string;
  readonly onClick: () => void;
}

/** Where a mark can be pressed; the arrow keys do the same on the whole chart, so that it needs no focus of its own. */
export function Hit({ title, onClick, ...place }: HitProps) {
  return (
    // biome-ignore lint/a11y/noStaticElementInteractions: the keyboard moves the selection on the whole chart.
    <rect className="hit" data-screen-only {...place} onClick={onClick}>
      <title>{title}</title>
    </rect>
  );
}
