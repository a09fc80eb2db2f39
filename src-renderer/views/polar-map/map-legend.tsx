import {
  formatChosenProbability,
  formatLimitWithUnit,
  type Standing,
  standingText,
  type Units,
} from '../../format/format.ts';
import { type QuantityName, quantityOf } from '../../format/quantities.ts';
import { VerdictMark } from '../../parts/verdict-mark.tsx';
import { limitRings, type MapMark, type MapScale, valuesUnder } from './marks.ts';

/** What the marks and rings mean, and from where the disc is seen. */
export function MapLegend({
  marks,
  scale,
  quantity,
  units,
  coverage,
}: {
  readonly marks: readonly MapMark[];
  readonly scale: MapScale;
  readonly quantity: QuantityName;
  readonly units: Units;
  readonly coverage: number;
}) {
  const { kind } = quantityOf(quantity);
  const { common, own } = limitRings(marks);
  const standings = (['conforming', 'nonconforming', 'unproven', 'missing'] as Standing[]).filter(
    (standing) => marks.some((mark) => mark.standing === standing),
  );
  return (
    <ul className="legend">
      {standings.map((standing) => (
        <li key={standing}>
          <VerdictMark standing={standing} />
          {standingText[standing]}
        </li>
      ))}
      {common !== null && (
        <li>
          <svg className="dash" viewBox="0 0 22 4" aria-hidden="true">
            <path d="M0 2 H22" stroke="var(--limit)" strokeWidth="2" strokeDasharray="5 3" />
          </svg>
          {kind === 'size' ? 'tolerance ' : 'limit ±'}
          {formatLimitWithUnit(common, kind, units, valuesUnder(marks, common))}
          {own.length > 0 && ', arcs where a station has its own'}
        </li>
      )}
      {marks.some((mark) => mark.expanded !== null) && (
        <li>
          <svg className="whisker" viewBox="-11 -4 22 8" aria-hidden="true">
            <path d="M-8 0 H8 M8 -3 V3" />
            {kind !== 'size' && <path d="M-8 -3 V3" />}
          </svg>
          {kind === 'size' ? 'to value + U' : 'value ± U'}, {formatChosenProbability(coverage)}
        </li>
      )}
      {marks.some((mark) => Math.abs(mark.value ?? 0) > scale.to) && (
        <li className="view-note">Figures at the rim are beyond the scale</li>
      )}
      <li className="view-note">
        {common === null
          ? 'No limit here: marks show the verdict of the station'
          : 'Marks judge this quantity alone'}
      </li>
      <li className="view-note">Seen from +Z, 0° (+X) at right, angles counterclockwise</li>
    </ul>
  );
}
