import { memo, useMemo } from 'react';
import { residualColour, SHADES, shadeOf } from '../../plot/residual-colours.ts';
import type { PointView } from './points.ts';

/** A point on the drawing, in pixels. */
export interface Dot {
  readonly point: PointView;
  readonly x: number;
  readonly y: number;
}

interface DotsProps {
  readonly dots: readonly Dot[];
  readonly range: number;
  readonly dark: boolean;
  readonly chosen: number | null;
}

/** Diameter in pixels: small where there are many. */
function dotSize(count: number): number {
  if (count <= 120) return 8;
  return count <= 1500 ? 5.5 : 3.5;
}

/**
 * Points coloured by residual, hollow where they are left out. One path a shade: twenty thousand points make some
 * twenty elements.
 */
export function Dots({ dots, range, dark, chosen }: DotsProps) {
  const ring = dots.find(({ point }) => point.line === chosen);
  return (
    <>
      <Cloud dots={dots} range={range} dark={dark} />
      {ring !== undefined && (
        <circle className="dot-chosen" cx={ring.x} cy={ring.y} r={dotSize(dots.length) / 2 + 5} />
      )}
    </>
  );
}

/** Drawn anew only where a point has moved, not where another one is chosen. */
const Cloud = memo(({ dots, range, dark }: Omit<DotsProps, 'chosen'>) => {
  const size = dotSize(dots.length);
  const paths = useMemo(() => {
    const shades = new Map<number, string[]>();
    const all: string[] = [];
    const hollow: string[] = [];
    const r = size / 2;
    for (const { point, x, y } of dots) {
      const place = `M${x.toFixed(1)} ${y.toFixed(1)}h.01`;
      if (point.reason !== null) {
        hollow.push(
          `M${(x - r).toFixed(1)} ${y.toFixed(1)}a${r} ${r} 0 1 0 ${size} 0a${r} ${r} 0 1 0 ${-size} 0`,
        );
        continue;
      }
      const shade = shadeOf(point.residual, range);
      const own = shades.get(shade) ?? [];
      own.push(place);
      shades.set(shade, own);
      all.push(place);
    }
    // The largest residuals lie on top.
    const inOrder = [...shades].sort((a, b) => Math.abs(a[0]) - Math.abs(b[0]));
    return { all: all.join(''), hollow: hollow.join(''), shades: inOrder };
  }, [dots, range, size]);
  return (
    <g className="dots">
      <path className="dot-edge" d={paths.all} strokeWidth={size + 1.6} />
      {paths.shades.map(([shade, places]) => (
        <path
          key={shade}
          className="dot-fill"
          d={places.join('')}
          strokeWidth={size}
          stroke={residualColour(shade / SHADES, dark)}
        />
      ))}
      <path className="dot-hollow" d={paths.hollow} />
    </g>
  );
});

/** Farther from every point than this, a press means none. */
const REACH = 16;

function nearestDot(dots: readonly Dot[], x: number, y: number): Dot | null {
  let best: Dot | null = null;
  let least = REACH ** 2;
  for (const dot of dots) {
    const distance = (dot.x - x) ** 2 + (dot.y - y) ** 2;
    if (distance <= least) {
      least = distance;
      best = dot;
    }
  }
  return best;
}

interface PickProps {
  readonly dots: readonly Dot[];
  readonly width: number;
  readonly height: number;
  readonly onChoose: (line: number) => void;
}

/** Takes presses for the nearest point; the arrow keys on the whole chart do the same. */
export function Pick({ dots, width, height, onChoose }: PickProps) {
  return (
    // biome-ignore lint/a11y/noStaticElementInteractions: the keyboard moves the choice on the whole chart.
    <rect
      className="hit"
      data-screen-only
      width={width}
      height={height}
      onClick={(event) => {
        const box = event.currentTarget.getBoundingClientRect();
        const found = nearestDot(dots, event.clientX - box.left, event.clientY - box.top);
        if (found !== null) onChoose(found.point.line);
      }}
    />
  );
}
