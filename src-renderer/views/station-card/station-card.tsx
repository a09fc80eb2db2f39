import { useRef } from 'react';
import { neededProbability } from '../../../shared-math/display/decimals.ts';
import type { StationResult } from '../../../shared-math/result.ts';
import type { ReducedDisc } from '../../../src-main/api.ts';
import { PictureTools } from '../../chart/picture-tools.tsx';
import {
  formatAngle,
  formatChosenProbability,
  formatCount,
  formatValue,
  type Units,
  unitSymbol,
} from '../../format/format.ts';
import { type QuantityName, quantityOf, settlements } from '../../format/quantities.ts';
import { stationViews } from '../../format/station-view.ts';
import { fileStem } from '../../parts/download.ts';
import { SheetTools } from '../../parts/sheet-tools.tsx';
import { StationHead } from '../../parts/station-head.tsx';
import { VerdictMark } from '../../parts/verdict-mark.tsx';
import { ErrorBars } from './error-bars.tsx';
import { PositionTable } from './position-table.tsx';
import { stationSheet } from './station-sheet.ts';
import { UncertaintySources } from './uncertainty-sources.tsx';
import { ZoneDrawing } from './zone-drawing.tsx';
import './station-card.css';

interface StationCardProps {
  readonly disc: ReducedDisc;
  readonly units: Units;
  readonly frame: 'blade' | 'disc';
  readonly quantity: QuantityName;
  readonly onQuantity: (name: QuantityName) => void;
  readonly selected: number | null;
  readonly onStep: (step: 1 | -1) => void;
  /** What is noted on the station, and where to note it. */
  readonly note?: string;
  readonly onNote?: () => void;
}

export function StationCard({
  disc,
  units,
  frame,
  quantity,
  onQuantity,
  selected,
  onStep,
  note = '',
  onNote,
}: StationCardProps) {
  const station = stationViews(disc.result).find((entry) => entry.station === selected);
  const missing = disc.result.summary.missing.find((entry) => entry.station === selected);
  const zone = useRef<HTMLDivElement>(null);
  const stem = `${fileStem(disc.plan.title)}-station-${selected}`;
  const planned = station ?? missing;
  const needed = neededProbability(disc.result.decision);
  const coverage = formatChosenProbability(disc.result.decision.coverage);
  const hasEllipse = station?.position.checkPoints.some((point) => point.covariance !== null) ?? false;
  const weld = disc.welds?.find((row) => row.station === selected);
  return (
    <section className="station-card panel" aria-label="Selected station">
      <StationHead
        station={selected}
        standing={station?.verdict ?? (missing === undefined ? null : 'missing')}
        onStep={onStep}
        angle={planned === undefined ? undefined : formatAngle(planned.angle)}
      >
        {weld !== undefined && (
          <span className="weld">
            weld {weld.sequence}, tool {weld.tool}
          </span>
        )}
        {onNote !== undefined && selected !== null && (
          <button
            type="button"
            className="button quiet note"
            title={note === '' ? `Note something on station ${selected}` : note}
            onClick={onNote}
          >
            {note === '' ? 'Note' : `Note: ${note}`}
          </button>
        )}
        {station !== undefined && (
          <span className="card-tools">
            <SheetTools
              sheet={stationSheet(station, units)}
              fileName={stem}
              of={`the figures of station ${station.station}`}
            />
            <PictureTools
              drawings={() => [...(zone.current?.querySelectorAll('svg') ?? [])]}
              of="the position zone"
              fileName={`${stem}-zone`}
              pictureTitle={`${disc.plan.title}: station ${station.station}, position zone`}
            />
          </span>
        )}
      </StationHead>
      {missing !== undefined && <p className="empty">Not reduced: {missing.reason}</p>}
      {station !== undefined && (
        <div className="card-body">
          <Settlements station={station} units={units} />
          <div className="card-errors">
            <ErrorBars
              station={station}
              frame={frame}
              units={units}
              needed={needed}
              quantity={quantity}
              onQuantity={onQuantity}
            />
            <p className="caption">
              {frame === 'blade' ? 'Errors of the blade frame' : 'The same error in disc directions'}
              {station.uncertainty === null ? ', uncertainty not evaluated' : ` ± U (${coverage})`}; at right
              the limit or budget
            </p>
            <Unobservable station={station} />
            {station.uncertainty !== null && (
              <UncertaintySources uncertainty={station.uncertainty} at={station.position.at} />
            )}
          </div>
          <div className="card-zone" ref={zone}>
            <ZoneDrawing
              points={station.position.checkPoints}
              coverage={disc.result.decision.coverage}
              units={units}
            />
            <p className="caption">
              δ seen from the tip
              {hasEllipse && (
                <span
                  className="ellipse-note"
                  title="Holds the true displacement with this probability: from its covariance, taken as normally distributed"
                >
                  {coverage} coverage ellipse
                </span>
              )}
            </p>
          </div>
          <div className="card-tables">
            <PositionTable station={station} units={units} needed={needed} />
            <Datums station={station} units={units} />
          </div>
        </div>
      )}
    </section>
  );
}

/** What would settle what is not proven. The words are the result's and keep its units; the label says so where others are shown. */
function Settlements({ station, units }: { readonly station: StationResult; readonly units: Units }) {
  const all = settlements(station);
  if (all.length === 0) return null;
  return (
    <ul className="settlements">
      {all.map(({ name, words }) => (
        <li key={name}>
          <VerdictMark standing="unproven" />
          <span>
            <b>
              {quantityOf(name).title} not proven{unitNote(words, units)}.
            </b>{' '}
            {words}
          </span>
        </li>
      ))}
    </ul>
  );
}

function unitNote(words: string, units: Units): string {
  if (/\d µm/.test(words) && units.length !== 'µm') return ' (figures in µm)';
  return /\d″/.test(words) && units.rotation !== 'arc-second' ? ' (figures in arc-seconds)' : '';
}

function Unobservable({ station }: { readonly station: StationResult }) {
  if (station.unobservable.length === 0) return null;
  return (
    <ul className="unobservable">
      {station.unobservable.map(({ freedom, reason }) => (
        <li key={freedom}>
          <b>{quantityOf(freedom).title} not observed:</b> {reason}
        </li>
      ))}
    </ul>
  );
}

function Datums({ station, units }: { readonly station: StationResult; readonly units: Units }) {
  return (
    <table className="small-table datums">
      <caption>Datum features, {unitSymbol('length', units)}</caption>
      <thead>
        <tr>
          <th scope="col">feature</th>
          <th scope="col">points</th>
          <th scope="col">form</th>
          <th scope="col">r.m.s.</th>
        </tr>
      </thead>
      <tbody>
        {station.features.map((feature) => (
          <tr
            key={`${feature.label} ${feature.feature}`}
            title={feature.fixes.length > 0 ? `Fixes ${feature.fixes.join(', ')}` : undefined}
          >
            <th scope="row">
              <span className="letter">{feature.label}</span>
              {feature.feature} <span className="type">{feature.type}</span>
            </th>
            <td className="number">{formatCount(feature.points)}</td>
            <td className="number">{formatValue(feature.form, 'size', units)}</td>
            <td className="number">{formatValue(feature.rms, 'size', units)}</td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}
