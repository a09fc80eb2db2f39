import type { ReducedDisc } from '../../../src-main/api.ts';
import { formatCount, formatValue, type Units, unitWord } from '../../format/format.ts';
import { StationHead } from '../../parts/station-head.tsx';
import { type Exclusions, sameFeature } from '../../state/exclusions.ts';
import { type PlannedFeature, plannedFeatures, reportOf } from './feature-names.ts';

interface FeatureListProps {
  readonly disc: ReducedDisc;
  readonly exclusions: Exclusions;
  readonly units: Units;
  readonly station: number | null;
  readonly current: PlannedFeature | null;
  readonly onChoose: (feature: PlannedFeature) => void;
  readonly onStep: (by: 1 | -1) => void;
  readonly onLeave: (feature: PlannedFeature) => void;
  readonly onTakeBack: (feature: PlannedFeature) => void;
}

/** Datum features of the selected station and of the hub. */
export function FeatureList(props: FeatureListProps) {
  const { disc, station, current, exclusions, onStep } = props;
  const reason =
    current === null ? undefined : exclusions.features.find((left) => sameFeature(left, current))?.reason;
  const { stations, summary } = disc.result;
  const standing = stations.find((entry) => entry.station === station)?.verdict;
  const missing = summary.missing.find((entry) => entry.station === station);
  return (
    <nav className="feature-list panel" aria-label="Features">
      <StationHead
        station={station}
        standing={standing ?? (missing === undefined ? null : 'missing')}
        onStep={onStep}
      />
      {missing !== undefined && <p className="missing-reason">{missing.reason}</p>}
      {station !== null && <Group {...props} title="Blade" station={station} />}
      <Group {...props} title="Hub" station={null} />
      <p className="caption unit-note">form (peak to valley) in {unitWord('length', props.units)}</p>
      {current !== null && (
        <div className="feature-act">
          {reason === undefined ? (
            <button type="button" className="button" onClick={() => props.onLeave(current)}>
              Leave {current.feature} out…
            </button>
          ) : (
            <>
              <p>
                {current.feature} is left out: {reason}
              </p>
              <button type="button" className="button" onClick={() => props.onTakeBack(current)}>
                Take {current.feature} back
              </button>
            </>
          )}
        </div>
      )}
    </nav>
  );
}

function Group(props: FeatureListProps & { readonly title: string }) {
  const { title, disc, exclusions, units, station, current, onChoose } = props;
  const entries = plannedFeatures(disc.definition, station);
  return (
    <>
      <h3>{title}</h3>
      <ul>
        {entries.map((entry) => {
          const report = reportOf(disc.result, entry);
          const shares = entries.filter(({ label }) => label === entry.label).length > 1;
          const whole = exclusions.features.some((left) => sameFeature(left, entry));
          return (
            <li key={`${entry.label} ${entry.feature}`}>
              <button
                type="button"
                aria-current={current !== null && sameFeature(entry, current) ? 'true' : undefined}
                className={whole ? 'left-out' : undefined}
                onClick={() => onChoose(entry)}
              >
                <span className="letter">{entry.label}</span>
                <span className="feature-name">{entry.feature}</span>
                <span className="feature-facts">
                  {entry.type}
                  {report !== null && `, ${formatCount(report.points)} pts${shares ? ' together' : ''}`}
                </span>
                <span className="feature-form">
                  {whole ? 'left out' : report === null ? '–' : formatValue(report.form, 'size', units)}
                </span>
              </button>
            </li>
          );
        })}
      </ul>
    </>
  );
}
