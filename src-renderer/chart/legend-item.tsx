import type { ReactNode } from 'react';

interface LegendItemProps {
  readonly width: number;
  readonly height?: number;
  readonly className?: string;
  /** The mark as it is drawn on the chart. */
  readonly mark: ReactNode;
  /** What it stands for. */
  readonly children: ReactNode;
}

/** A mark of a chart with its words. */
export function LegendItem({ width, height = 12, className, mark, children }: LegendItemProps) {
  return (
    <span className={className}>
      <svg width={width} height={height} aria-hidden="true" className="chart">
        {mark}
      </svg>
      {children}
    </span>
  );
}
