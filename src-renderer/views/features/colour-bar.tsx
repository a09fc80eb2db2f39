import { formatWithUnit, type Units } from '../../format/format.ts';
import { residualColour, SHADES } from '../../plot/residual-colours.ts';

interface ColourBarProps {
  readonly range: number;
  readonly dark: boolean;
  readonly units: Units;
}

/** What the colours of the points mean. */
export function ColourBar({ range, dark, units }: ColourBarProps) {
  const end = formatWithUnit(range, 'size', units);
  const steps = Array.from({ length: 2 * SHADES + 1 }, (_, i) => i - SHADES);
  return (
    <span className="colour-bar">
      −{end}
      <svg viewBox={`0 0 ${steps.length * 6} 10`} width={steps.length * 6} height="10" aria-hidden="true">
        {steps.map((step, i) => (
          <rect key={step} x={i * 6} width="6.2" height="10" fill={residualColour(step / SHADES, dark)} />
        ))}
      </svg>
      +{end}
    </span>
  );
}
