import { type KeyboardEvent, useMemo, useRef, useState } from 'react';
import type { ReducedDisc } from '../../../src-main/api.ts';
import { PictureButtons, type PictureFormat } from '../../chart/picture-tools.tsx';
import {
  formatAngle,
  formatExpanded,
  formatJudged,
  formatLimitWithUnit,
  standingText,
  type Units,
  unitWord,
} from '../../format/format.ts';
import { type QuantityName, quantityOf } from '../../format/quantities.ts';
import { downloadAddress, fileStem } from '../../parts/download.ts';
import { Segmented } from '../../parts/segmented.tsx';
import { VerdictMark } from '../../parts/verdict-mark.tsx';
import type { PlotHandle } from '../../plot/plot.tsx';
import { readPlotColours } from '../../plot/plot-colours.ts';
import { useSame } from '../../state/use-same.ts';
import { Dial } from './dial.tsx';
import type { DialReading } from './layout.ts';
import { MapLegend } from './map-legend.tsx';
import {
  isCrowded,
  limitRings,
  type MapMark,
  mapMarks,
  mapScale,
  type ScaleMode,
  valuesUnder,
} from './marks.ts';
import { QuantityRail } from './quantity-rail.tsx';
import './polar-map.css';

interface PolarMapProps {
  readonly disc: ReducedDisc;
  readonly units: Units;
  readonly dark: boolean;
  readonly quantity: QuantityName;
  readonly onQuantity: (name: QuantityName) => void;
  readonly selected: number | null;
  readonly marked: readonly number[];
  readonly onSelect: (station: number) => void;
  readonly onKey: (event: KeyboardEvent) => void;
}

export function PolarMap(props: PolarMapProps) {
  const { disc, units, dark, quantity, onQuantity, selected, marked, onSelect, onKey } = props;
  const plot = useRef<PlotHandle>(null);
  const { kind, title } = quantityOf(quantity);
  const [mode, setMode] = useState<ScaleMode>('limit');
  const marks = useSame(useMemo(() => mapMarks(disc, quantity, units), [disc, quantity, units]));
  const { tolerance } = disc.plan;
  const scale = useMemo(
    () => mapScale(marks, quantity, kind === 'rotation' ? 1e-3 : tolerance, mode),
    [marks, quantity, kind, tolerance, mode],
  );
  // biome-ignore lint/correctness/useExhaustiveDependencies: the colours change with the theme, which `dark` tells.
  const colours = useMemo(readPlotColours, [dark]);
  const label = useMemo(() => figureLabel(disc, quantity, marks, units), [disc, quantity, marks, units]);
  const chosen = marks.find((mark) => mark.station === selected) ?? null;

  async function save(format: PictureFormat) {
    const address = await plot.current?.picture(format);
    if (address !== undefined) downloadAddress(`${fileStem(disc.plan.title)}-${quantity}.${format}`, address);
  }

  return (
    <section className="polar-map panel" aria-label="Polar map">
      <QuantityRail disc={disc} value={quantity} onChange={onQuantity} />
      <div className="dial-side">
        <header className="dial-head">
          <div>
            <h2>{title}</h2>
            <p className="caption">{quantityOf(quantity).meaning}</p>
          </div>
          <div className="dial-tools">
            {isCrowded(marks) && (
              <Segmented
                title="Scale of the map"
                value={mode}
                onChange={setMode}
                choices={[
                  ['limit', 'Near limit', 'Scale around the limit; larger values stand at the rim'],
                  ['all', 'All', 'Scale that holds every value'],
                ]}
              />
            )}
            <PictureButtons of="the map" className="button quiet" onSave={(format) => void save(format)} />
          </div>
        </header>
        <Dial
          marks={marks}
          name={quantity}
          units={units}
          scale={scale}
          colours={colours}
          selected={selected}
          marked={marked}
          reading={reading(chosen, quantity, units)}
          noted
          label={label}
          handle={plot}
          pictureTitle={`${disc.plan.title}: ${title.toLowerCase()}`}
          onSelect={onSelect}
          onKey={onKey}
        />
        <MapLegend
          marks={marks}
          scale={scale}
          quantity={quantity}
          units={units}
          coverage={disc.result.decision.coverage}
        />
        <p className="live" aria-live="polite" data-testid="live-line">
          {chosen === null ? (
            'No station is selected.'
          ) : (
            <>
              <VerdictMark standing={chosen.standing} />
              <span>
                <b>Station {chosen.station}</b> at {formatAngle(chosen.angle)}: {chosen.text} –{' '}
                {chosen.limit === null && chosen.value !== null && 'station '}
                {standingText[chosen.standing]}
              </span>
            </>
          )}
        </p>
      </div>
    </section>
  );
}

function reading(mark: MapMark | null, quantity: QuantityName, units: Units): DialReading {
  if (mark === null) return ['', '', ''];
  const { kind } = quantityOf(quantity);
  const head = `Station ${mark.station}`;
  if (mark.value === null) return [head, '–', mark.standing === 'missing' ? 'missing' : 'not observed'];
  const foot = mark.expanded === null ? '' : `${formatExpanded(mark.expanded, kind, units)} `;
  return [head, formatJudged(mark.value, kind, units, mark.limit), foot + unitWord(kind, units)];
}

function figureLabel(
  disc: ReducedDisc,
  quantity: QuantityName,
  marks: readonly MapMark[],
  units: Units,
): string {
  const { kind, title } = quantityOf(quantity);
  const { common } = limitRings(marks);
  const values = marks.flatMap((mark) => (mark.value === null ? [] : [mark]));
  const largest = [...values].sort((a, b) => Math.abs(b.value ?? 0) - Math.abs(a.value ?? 0))[0];
  const parts = [
    `${title} of ${values.length} stations around the disc, seen from +Z, 0° at right, counterclockwise.`,
  ];
  if (common !== null)
    parts.push(`Limit ${formatLimitWithUnit(common, kind, units, valuesUnder(marks, common))}.`);
  if (largest?.value != null)
    parts.push(
      `Largest: station ${largest.station}, ${formatJudged(largest.value, kind, units, largest.limit)}.`,
    );
  const missing = disc.result.summary.missing;
  if (missing.length > 0) parts.push(`Missing: ${missing.map((entry) => entry.station).join(', ')}.`);
  parts.push('Every value is in the station table. Arrow keys move the selection.');
  return parts.join(' ');
}
