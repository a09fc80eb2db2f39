import { useId } from 'react';
import type { LimitName } from '../../../shared-math/definition.ts';
import type { WhatIfState } from '../../../shared-math/what-if/state.ts';
import type { ReducedDisc } from '../../../src-main/api.ts';
import { roundStep } from '../../chart/scale.ts';
import { toDisplay, type Units, unitSymbol } from '../../format/format.ts';
import { quantityOf } from '../../format/quantities.ts';
import {
  type BenchLimit,
  benchLimits,
  furtherLimits,
  plannedWords,
  withFurtherLimit,
  withLimit,
} from './limits.ts';
import { NumberField } from './setting-row.tsx';

interface LimitRowsProps {
  readonly disc: ReducedDisc;
  readonly state: WhatIfState;
  readonly units: Units;
  readonly onChange: (state: WhatIfState, running: string | null) => void;
  readonly onSettle: () => void;
}

/** Limits of the errors: to be moved, dropped, or added. */
export function LimitRows(props: LimitRowsProps) {
  const { disc, state, onChange } = props;
  const limits = benchLimits(disc, state);
  const further = furtherLimits(disc, state);
  return (
    <>
      {limits.map((limit) => (
        <LimitRow key={limit.name} {...props} limit={limit} />
      ))}
      {limits.length === 0 && <p className="control-note">The plan limits the position alone.</p>}
      {further.length > 0 && (
        <select
          className="further-limit"
          value=""
          aria-label="Try a limit that the plan does not have"
          onChange={(event) => {
            if (event.target.value !== '')
              onChange(withFurtherLimit(disc, state, event.target.value as LimitName), null);
          }}
        >
          <option value="">try a limit of …</option>
          {further.map((name) => (
            <option key={name} value={name}>
              {quantityOf(name).title}
            </option>
          ))}
        </select>
      )}
    </>
  );
}

function LimitRow(props: LimitRowsProps & { readonly limit: BenchLimit }) {
  const { disc, state, units, limit, onChange, onSettle } = props;
  const { name, kind, tried, start } = limit;
  const id = useId();
  const { label, title } = quantityOf(name);
  const factor = toDisplay(1, kind, units);
  const value = (tried ?? start) * factor;
  const step = roundStep((start * factor) / 50);
  const symbol = unitSymbol(kind, units);
  const note = plannedWords(disc, limit, units);
  const set = (shown: number) => {
    if (shown > 0) onChange(withLimit(disc, state, name, shown / factor), `limit ${name}`);
  };
  return (
    <div className={`setting-row limit-row ${tried === undefined ? '' : 'set'}`} data-limit={name}>
      <input
        type="checkbox"
        checked={tried !== null}
        aria-label={`${title} is limited`}
        onChange={(event) =>
          onChange(withLimit(disc, state, name, event.target.checked ? undefined : null), null)
        }
      />
      <label htmlFor={id}>{label}</label>
      <input
        id={id}
        type="range"
        min={step}
        max={Math.max(2 * start * factor, value)}
        step={step}
        value={value}
        disabled={tried === null}
        aria-label={`Limit of ${title.toLowerCase()}`}
        aria-valuetext={`${Number(value.toPrecision(6))} ${symbol}`}
        onChange={(event) => set(event.target.valueAsNumber)}
        onPointerUp={onSettle}
        onBlur={onSettle}
      />
      <NumberField
        label={`Limit of ${title.toLowerCase()}, ${symbol}`}
        value={value}
        step={step}
        disabled={tried === null}
        onValue={set}
        onSettle={onSettle}
      />
      <span className="unit">{symbol}</span>
      {(note !== null || (limit.planned !== null && tried !== undefined)) && (
        <p className="limit-note">
          {note}
          {limit.planned !== null && tried !== undefined && (
            <button
              type="button"
              className="link"
              aria-label={`Limit of ${title.toLowerCase()} as planned`}
              onClick={() => onChange(withLimit(disc, state, name, undefined), null)}
            >
              as planned
            </button>
          )}
        </p>
      )}
    </div>
  );
}
