import { useEffect, useId, useState } from 'react';
import type { FeaturePoints, HubtrueApi, ReducedDisc } from '../../../src-main/api.ts';
import { formatCount, formatValue, type Units, unitSymbol } from '../../format/format.ts';
import type { DroppedPoint } from './history.ts';
import type { Trial } from './use-trial.ts';

interface DropPointsProps {
  readonly api: HubtrueApi;
  readonly disc: ReducedDisc;
  /** Job of the reduction on view. */
  readonly job: string | null;
  readonly points: readonly DroppedPoint[];
  readonly trial: Trial;
  readonly units: Units;
  readonly selected: number | null;
  readonly onPoints: (points: readonly DroppedPoint[]) => void;
}

/** More would not be looked through; the farthest stand first. */
const MOST_LISTED = 40;

/** The points of one feature, farthest from it first; those that are unticked are left out of a new reduction. */
export function DropPoints(props: DropPointsProps) {
  const { api, disc, job, points, trial, units, selected, onPoints } = props;
  const [choice, setChoice] = useState('');
  const [listed, setListed] = useState<FeaturePoints | null>(null);
  const [problem, setProblem] = useState<string | null>(null);
  const id = useId();
  const hub = featureNames(disc.definition.hubDatums);
  const blade = featureNames(disc.definition.bladeDatums);
  const [where, feature] = [choice.slice(0, choice.indexOf(' ')), choice.slice(choice.indexOf(' ') + 1)];
  const station = where === 'blade' ? selected : null;

  useEffect(() => {
    setListed(null);
    setProblem(null);
    if (job === null || choice === '' || (where === 'blade' && station === null)) return;
    let stale = false;
    void api.featurePoints({ job, station, feature, most: 5000 }).then((outcome) => {
      if (stale) return;
      if (outcome.ok) setListed(outcome.value);
      else setProblem(outcome.problems[0]?.message ?? 'The points cannot be listed.');
    });
    return () => {
      stale = true;
    };
  }, [api, job, choice, where, station, feature]);

  const lines = new Set(points.map(({ line }) => line));
  const toggle = (line: number) =>
    onPoints(
      lines.has(line)
        ? points.filter((point) => point.line !== line)
        : [...points, { line, station, feature }].sort((a, b) => a.line - b.line),
    );
  return (
    <div className="drop-points">
      <label htmlFor={id} className="unseen">
        Points of the feature
      </label>
      <select id={id} value={choice} onChange={(event) => setChoice(event.target.value)}>
        <option value="">choose a datum feature …</option>
        <optgroup label="Hub">
          {hub.map((name) => (
            <option key={name} value={`hub ${name}`}>
              {name}
            </option>
          ))}
        </optgroup>
        {selected !== null && (
          <optgroup label={`Station ${selected}`}>
            {blade.map((name) => (
              <option key={name} value={`blade ${name}`}>
                {name}
              </option>
            ))}
          </optgroup>
        )}
      </select>
      {problem !== null && <p className="setting-note">{problem}</p>}
      {listed !== null && (
        <>
          <p className="control-note">
            {formatCount(listed.total)} points, farthest from the feature first
            {listed.total > MOST_LISTED && `, ${MOST_LISTED} of them`}; distance in{' '}
            {unitSymbol('length', units)}
          </p>
          <ul className="point-list">
            {farthest(listed).map(({ line, residual, excluded }) => (
              <li key={line}>
                <label className="point">
                  <input
                    type="checkbox"
                    checked={!excluded && !lines.has(line)}
                    disabled={excluded}
                    aria-label={`Point of line ${line} takes part`}
                    onChange={() => toggle(line)}
                  />
                  line {formatCount(line)}
                </label>
                <span>{excluded ? 'excluded already' : formatValue(residual, 'length', units)}</span>
              </li>
            ))}
          </ul>
        </>
      )}
      {points.length > 0 && (
        <div className="dropped-points" role="status">
          <p>
            {trial.kind === 'running'
              ? 'Reducing again …'
              : trial.kind === 'refused'
                ? (trial.problems[0]?.message ?? 'Without these points the disc cannot be reduced.')
                : `Reduced again without ${formatCount(points.length)} ${points.length === 1 ? 'point' : 'points'}.`}
          </p>
          {points.map((point) => (
            <button
              key={point.line}
              type="button"
              className="chip"
              aria-label={`Take the point of line ${point.line} back in`}
              onClick={() => toggle(point.line)}
            >
              {point.station === null ? '' : `${point.station} `}
              {point.feature} {point.line} ×
            </button>
          ))}
        </div>
      )}
    </div>
  );
}

function featureNames(datums: ReducedDisc['definition']['hubDatums']): readonly string[] {
  return [...new Set(datums.flatMap((datum) => datum.features))];
}

function farthest({ lines, residual, excluded }: FeaturePoints) {
  return lines
    .map((line, index) => ({
      line,
      residual: residual[index] ?? 0,
      excluded: excluded[index] ?? false,
    }))
    .sort((a, b) => Math.abs(b.residual) - Math.abs(a.residual))
    .slice(0, MOST_LISTED);
}
