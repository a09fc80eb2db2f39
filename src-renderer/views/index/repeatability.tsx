import type { IndexRepeatability } from '../../../shared-math/diagnosis/findings.ts';
import { exportNumber, formatWithUnit, plainUnit, type Units } from '../../format/format.ts';
import type { Sheet } from '../../parts/sheet.ts';

function factsOf(of: IndexRepeatability): readonly (readonly [string, number | null])[] {
  return [
    ['Reversal B', of.reversal],
    ['Repeatability R↑', of.repeatabilityUp],
    ['Repeatability R↓', of.repeatabilityDown],
    ['Repeatability R', of.repeatability],
    ['Systematic deviation E', of.systematicDeviation],
    ['Accuracy A', of.accuracy],
  ];
}

export function repeatabilitySheet(of: IndexRepeatability, units: Units): Sheet {
  return {
    head: ['quantity', `value (${plainUnit('rotation', units)})`],
    rows: factsOf(of).map(([title, value]) => [
      title,
      exportNumber(value === null ? null : Math.abs(value), 'rotation', units),
    ]),
  };
}

/** Repeatability of the index from several runs, in the sense of ISO 230-2. */
export function Repeatability({ of, units }: { readonly of: IndexRepeatability; readonly units: Units }) {
  return (
    <dl className="index-facts">
      {factsOf(of).map(([title, value]) => (
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
