import { type ReactNode, useState } from 'react';
import { neededProbability } from '../../../shared-math/display/decimals.ts';
import type { ReducedDisc } from '../../../src-main/api.ts';
import {
  countOf,
  formatCount,
  formatLimitWithUnit,
  formatQuantity,
  type Standing,
  standingText,
  type Units,
} from '../../format/format.ts';
import { levelNames } from '../../format/station-view.ts';
import { Modal } from '../../parts/modal.tsx';
import { VerdictMark } from '../../parts/verdict-mark.tsx';
import { Decision, ruleWords, uncertaintyWords } from './decision.tsx';
import { LeftOut } from './left-out.tsx';
import { Pattern } from './pattern.tsx';
import './summary.css';

interface SummaryProps {
  readonly disc: ReducedDisc;
  readonly units: Units;
  readonly onSelect: (station: number) => void;
}

type Opened = 'excluded' | 'pattern' | 'warnings' | 'decision' | null;

export function Summary({ disc, units, onSelect }: SummaryProps) {
  const [opened, setOpened] = useState<Opened>(null);
  const { result, plan } = disc;
  const { summary, source, decision } = result;
  const { pattern, screened } = result;
  const { excluded } = source.points;
  const setAside = [
    ...(excluded.length > 0 ? [`${formatCount(excluded.length)} excluded`] : []),
    ...(screened.length > 0 ? [`${formatCount(screened.length)} flagged`] : []),
  ].join(', ');
  const warnings = [...new Set([...result.warnings, ...disc.warnings])];
  const { worst } = summary;
  const worstResult =
    worst === null ? undefined : result.stations.find((entry) => entry.station === worst.station);
  const zone = { cylindrical: '⌀ ', spherical: 'S⌀ ', planar: 'width ' }[plan.zone];
  const tolerance = `${zone}${formatLimitWithUnit(plan.tolerance, 'length', units)}, ${plan.zone}`;
  const tally: readonly (readonly [Standing, number])[] = [
    ['conforming', summary.conforming],
    ['nonconforming', summary.nonconforming],
    ['unproven', summary.unproven],
    ['missing', summary.missing.length],
  ];
  return (
    <section className="summary panel" aria-label="Summary">
      <div className="verdict-line">
        <h2 className="headline">
          <b>{formatCount(summary.conforming)}</b> of {countOf(summary.stations, 'station')} conform
          {summary.conforming === 1 ? 's' : ''}
        </h2>
        <ul className="tally">
          {tally.map(([standing, count]) => (
            <li key={standing} className={count === 0 ? 'none' : undefined} data-standing={standing}>
              <VerdictMark standing={standing} />
              <b>{formatCount(count)}</b> {standingText[standing]}
            </li>
          ))}
        </ul>
      </div>
      <dl className="facts">
        <Fact title={pattern === null ? 'Worst position' : levelNames.hub}>
          {worst === null ? (
            'none measured'
          ) : (
            <button type="button" className="link" onClick={() => onSelect(worst.station)}>
              station {worst.station},{' '}
              {formatQuantity(worst.position, 'position', units, null, worstResult?.position.tolerance)}
              {worstResult !== undefined && ` at ${worstResult.position.at}`}
            </button>
          )}
          {pattern !== null && <small>tolerance {tolerance}</small>}
        </Fact>
        {pattern === null && <Fact title="Position tolerance">{tolerance}</Fact>}
        {pattern !== null && (
          <Fact title={levelNames.eachOther}>
            <button type="button" className="link pattern-verdict" onClick={() => setOpened('pattern')}>
              <VerdictMark standing={pattern.verdict} />
              {formatQuantity(pattern.value, 'relative', units, null, pattern.tolerance)}
            </button>
            <small>
              {standingText[pattern.verdict]}, tolerance{' '}
              {formatLimitWithUnit(pattern.tolerance, 'length', units, [pattern.value])}
            </small>
          </Fact>
        )}
        <Fact title="Decision rule">
          <button type="button" className="link" title={decision.risk} onClick={() => setOpened('decision')}>
            {ruleWords(decision)}
          </button>
          <small>{uncertaintyWords(result)}</small>
        </Fact>
        <Fact title="Points used">
          {formatCount(source.points.used)} of {formatCount(source.points.rows)}
          <small>
            {setAside === '' ? (
              'none excluded'
            ) : (
              <button type="button" className="link" onClick={() => setOpened('excluded')}>
                {setAside}
              </button>
            )}
          </small>
        </Fact>
        <Fact title="Warnings">
          {warnings.length === 0 ? (
            'none'
          ) : (
            <button type="button" className="link" onClick={() => setOpened('warnings')}>
              {formatCount(warnings.length)} to read
            </button>
          )}
        </Fact>
      </dl>
      <Modal
        title={screened.length === 0 ? 'Points left out' : 'Points left out or flagged'}
        open={opened === 'excluded'}
        onClose={() => setOpened(null)}
      >
        <LeftOut result={result} units={units} />
      </Modal>
      {pattern !== null && (
        <Modal title={levelNames.eachOther} open={opened === 'pattern'} onClose={() => setOpened(null)}>
          <Pattern pattern={pattern} units={units} needed={neededProbability(decision)} />
        </Modal>
      )}
      <Modal title="Decision rule" open={opened === 'decision'} onClose={() => setOpened(null)}>
        <Decision result={result} />
      </Modal>
      <Modal title="Warnings" open={opened === 'warnings'} onClose={() => setOpened(null)}>
        <ul className="warnings">
          {warnings.map((warning) => (
            <li key={warning}>{warning}</li>
          ))}
        </ul>
      </Modal>
    </section>
  );
}

function Fact({ title, children }: { readonly title: string; readonly children: ReactNode }) {
  return (
    <div>
      <dt className="caption">{title}</dt>
      <dd>{children}</dd>
    </div>
  );
}
