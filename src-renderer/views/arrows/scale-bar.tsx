import { roundStep } from '../../chart/scale.ts';
import { formatWithUnit, type Units } from '../../format/format.ts';

interface ScaleBarProps {
  readonly x: number;
  readonly y: number;
  /** Pixels that a displacement of 1 mm takes on the drawing. */
  readonly pixels: number;
  readonly units: Units;
}

/** A round displacement at the magnification of the arrows. */
export function ScaleBar({ x, y, pixels, units }: ScaleBarProps) {
  const length = roundStep(45 / pixels);
  return (
    <g className="scale-bar">
      <path d={`M${x} ${y - 4}v8M${x} ${y}h${length * pixels}m0 -4v8`} />
      <text className="faint" x={x + length * pixels + 8} y={y + 4}>
        {formatWithUnit(length, 'size', units)} of displacement
      </text>
    </g>
  );
}
