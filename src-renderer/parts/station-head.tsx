import type { ReactNode } from 'react';
import type { Standing } from '../format/format.ts';
import './station-head.css';
import { StandingText } from './verdict-mark.tsx';

interface StationHeadProps {
  /** Null: none is selected. */
  readonly station: number | null;
  /** Null: nothing is known of it. */
  readonly standing: Standing | null;
  readonly onStep: (step: 1 | -1) => void;
  /** Between the name and the standing. */
  readonly angle?: string | undefined;
  readonly children?: ReactNode;
}

/** Head of a panel that shows one station: steps to its neighbours, its number and how it stands. */
export function StationHead({ station, standing, onStep, angle, children }: StationHeadProps) {
  return (
    <header className="station-head">
      <span className="steps">
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
      </span>
      <h2>{station === null ? 'No station selected' : `Station ${station}`}</h2>
      {angle !== undefined && <span>{angle}</span>}
      {standing !== null && <StandingText standing={standing} />}
      {children}
    </header>
  );
}
