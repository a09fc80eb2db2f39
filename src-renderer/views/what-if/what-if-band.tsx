import type { Correction } from '../../../shared-math/diagnosis/corrections/correction.ts';
import type { WhatIfResult } from '../../../shared-math/what-if/apply.ts';
import type { ReducedDisc } from '../../../src-main/api.ts';
import { formatCount, formatValue, type Units, unitSymbol } from '../../format/format.ts';
import { ScrollRegion } from '../../parts/scroll-region.tsx';
import { VerdictMark } from '../../parts/verdict-mark.tsx';
import { notMeasured } from './rows.ts';

interface WhatIfBandProps {
  readonly disc: ReducedDisc;
  readonly tried: WhatIfResult;
  readonly isTried: boolean;
  readonly words: string;
  readonly units: Units;
  readonly canUndo: boolean;
  readonly canRedo: boolean;
  readonly onUndo: () => void;
  readonly onRedo: () => void;
  readonly onMeasured: () => void;
  readonly onCorrection: (correction: Correction) => void;
}

/** Says in a way that cannot be overlooked whether what is shown was measured, and what it counts to. */
export function WhatIfBand(props: WhatIfBandProps) {
  const { disc, tried, isTried, words, units } = props;
  const before = disc.result.summary;
  const after = tried.summary;
  const corrections = disc.result.diagnosis?.corrections ?? [];
  const counts = [
    ['conforming', before.conforming, after.conforming],
    ['nonconforming', before.nonconforming, after.nonconforming],
    ['unproven', before.unproven, after.unproven],
    ['missing', before.missing.length, after.missing.length],
  ] as const;
  const size = (value: number | undefined): string =>
    value === undefined ? '–' : formatValue(value, 'size', units);
  return (
    <section className={`what-if-band panel ${isTried ? 'tried' : ''}`} aria-label="State of the bench">
      <div className="band-words" role="status">
        <p className="band-title">{isTried ? notMeasured : 'As measured'}</p>
        {isTried ? (
          <ScrollRegion label="What was changed" className="band-changes">
            {words}
          </ScrollRegion>
        ) : (
          <p className="band-changes">
            Move a setting, or start from a correction: map, counts and table follow.
          </p>
        )}
      </div>
      <ul className="band-counts">
        {counts
          .filter(([standing, was, is]) => standing !== 'missing' || was + is > 0)
          .map(([standing, was, is]) => (
            <li key={standing} data-standing={standing}>
              <VerdictMark standing={standing} />
              {was !== is && <span className="was-count">{formatCount(was)} →</span>}
              <b>{formatCount(is)}</b> {standing}
            </li>
          ))}
        <li>
          worst{' '}
          {isTried && before.worst?.position !== after.worst?.position && (
            <span className="was-count">{size(before.worst?.position)} →</span>
          )}
          <b>{size(after.worst?.position)}</b> {unitSymbol('size', units)}
          {after.worst !== null && `, station ${after.worst.station}`}
        </li>
        {tried.unmoved.length > 0 && <li>cannot follow: {tried.unmoved.join(', ')}</li>}
      </ul>
      <div className="band-tools">
        {corrections.length > 0 && (
          <select
            value=""
            aria-label="Start from a correction"
            onChange={(event) => {
              const found = corrections.find(({ kind }) => kind === event.target.value);
              if (found !== undefined) props.onCorrection(found);
            }}
          >
            <option value="">Start from a correction …</option>
            {corrections.map(({ kind, title }) => (
              <option key={kind} value={kind}>
                {title}
              </option>
            ))}
          </select>
        )}
        <button
          type="button"
          className="button"
          onClick={props.onUndo}
          disabled={!props.canUndo}
          title="Undo (Ctrl+Z)"
        >
          Undo
        </button>
        <button
          type="button"
          className="button"
          onClick={props.onRedo}
          disabled={!props.canRedo}
          title="Redo (Ctrl+Y)"
        >
          Redo
        </button>
        <button type="button" className="button strong" onClick={props.onMeasured} disabled={!isTried}>
          Back to measured
        </button>
      </div>
    </section>
  );
}
