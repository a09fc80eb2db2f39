import type { IndexRepeatability } from '../../../shared-math/diagnosis/findings.ts';
import { formatWithUnit, type Units } from '../../format/format.ts';

/** Repeatability of the index from several runs, in the sense of ISO 230-2. */
export function Repeatability({ of, units }: { readonly of: IndexRepeatability; readonly units: Units }) {
  const facts: readonly (readonly [string, number | null])[] = [
    ['Reversal B', of.reversal],
    ['Repeatability R↑', of.repeatabilityUp],
    ['Repeatability R↓', of.repeatabilityDown],
    ['Repeatability R', of.repeatability],
    ['Systematic deviation E', of.systematicDeviation],
    ['Accuracy A', of.accuracy],
  ];
  return (
    <dl className="index-facts">
      {facts.map(([title, value]) => (
        <div key={title}>
          <dt className="caption">{title}</dt>
          <dd>
            {value === null
              ? 'not measured'
              : formatWithUnit(Math.abs(value), 'rotation', units).replace('+', '')}
          </dd>
        </div>
      ))}
    </dl>
  );
}
