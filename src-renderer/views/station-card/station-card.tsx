import type { ZoneShape } from '../../../shared-math/definition.ts';
import type { StationResult } from '../../../shared-math/result.ts';
import type { ReducedDisc } from '../../../src-main/api.ts';
import {
  formatAngle,
  formatCount,
  formatLimit,
  formatValue,
  formatWithUnit,
  type Units,
  unitSymbol,
} from '../../format/format.ts';
import { type QuantityName, quantityOf } from '../../format/quantities.ts';
import { StandingText, VerdictMark } from '../../parts/verdict-mark.tsx';
import { ErrorBars } from './error-bars.tsx';
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
}

export function StationCard({
  disc,
  units,
  frame,
  quantity,
  onQuantity,
  selected,
  onStep,
}: StationCardProps) {
  const station = disc.result.stations.find((entry) => entry.station === selected);
  const missing = disc.result.summary.missing.find((entry) => entry.station === selected);
  const weld = disc.welds?.find((row) => row.station === selected);
  return (
    <section className="station-card panel" aria-label="Selected station">
      <header>
        <button
          type="button"
          className="button step"
          onClick={() => onStep(-1)}
          aria-label="Previous station"
        >
          ←
        </button>
        <button type="button" className="button step" onClick={() => onStep(1)} aria-label="Next station">
          →
        </button>
        <h2>{selected === null ? 'No station selected' : `Station ${selected}`}</h2>
        {station !== undefined && (
          <>
            <span>{formatAngle(station.angle)}</span>
            <StandingText standing={station.verdict} />
          </>
        )}
        {missing !== undefined && (
          <>
            <span>{formatAngle(missing.angle)}</span>
            <StandingText standing="missing" />
          </>
        )}
        {weld !== undefined && (
          <span className="weld">
            weld {weld.sequence}, tool {weld.tool}
          </span>
        )}
      </header>
      {missing !== undefined && <p className="empty">Not reduced: {missing.reason}</p>}
      {station !== undefined && (
        <div className="card-body">
          <div className="card-errors">
            <ErrorBars
              station={station}
              frame={frame}
              units={units}
              quantity={quantity}
              onQuantity={onQuantity}
            />
            <p className="caption">
              {frame === 'blade'
                ? 'Six errors of the measured blade frame, against limits.'
                : 'The same error in disc directions, against limits.'}
              {' A name shows it on the map.'}
            </p>
            <Unobservable station={station} />
          </div>
          <div className="card-zone">
            <ZoneDrawing points={station.position.checkPoints} units={units} />
            <p className="caption">δ at the check points, seen from the tip</p>
          </div>
          <div className="card-tables">
            <Position station={station} units={units} />
            <Datums station={station} units={units} />
          </div>
        </div>
      )}
    </section>
  );
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

/** As drawings write them; a planar zone has a width and no sign. */
const zoneSign: Record<ZoneShape, string> = { cylindrical: '⌀ ', spherical: 'S⌀ ', planar: '' };

function Position({ station, units }: { readonly station: StationResult; readonly units: Units }) {
  const { position } = station;
  return (
    <table className="small-table">
      <caption>
        Position{' '}
        <b className={position.verdict === 'nonconforming' ? 'over' : undefined}>
          {position.value === null ? 'not observed' : formatWithUnit(position.value, 'size', units)}
        </b>{' '}
        at {position.at}
      </caption>
      <thead>
        <tr>
          <th scope="col">check point</th>
          <th scope="col">position</th>
          <th scope="col">tolerance</th>
        </tr>
      </thead>
      <tbody>
        {position.checkPoints.map((point) => (
          <tr key={point.name}>
            <th scope="row">
              <VerdictMark standing={point.verdict} />
              {point.name}
              <span className="unseen"> {point.verdict}</span>
            </th>
            <td className="number">
              {point.value === null ? 'n/o' : formatValue(point.value, 'size', units)}
            </td>
            <td className="number" title={`${point.zone} zone`}>
              {zoneSign[point.zone]}
              {formatLimit(point.tolerance, 'size', units)}
            </td>
          </tr>
        ))}
      </tbody>
    </table>
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
            <td className="number">{formatLimit(feature.form, 'length', units)}</td>
            <td className="number">{formatLimit(feature.rms, 'length', units)}</td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}
