import { useEffect, useMemo, useState } from 'react';
import { applyWhatIf } from '../../../shared-math/what-if/apply.ts';
import { type WhatIfState, withCorrection } from '../../../shared-math/what-if/state.ts';
import { ChartPanel } from '../../chart/chart-panel.tsx';
import { LegendItem } from '../../chart/legend-item.tsx';
import { fileStem } from '../../parts/download.ts';
import type { DiscWorkspaceProps } from '../../shell/workspace.ts';
import { useCommandHandlers } from '../../state/command-handlers.ts';
import { useKept } from '../../state/kept.ts';
import { evaluatedWords } from '../causes/evaluated.ts';
import { BenchControls, Group } from './bench-controls.tsx';
import { DropPoints } from './drop-points.tsx';
import {
  type BenchState,
  changed,
  type History,
  isUntouched,
  measuredBench,
  measuredHistory,
  redone,
  settled,
  undone,
} from './history.ts';
import { benchRows, benchSheet, notMeasured } from './rows.ts';
import { stateWords, withDropped } from './settings.ts';
import { type Trial, useTrial } from './use-trial.ts';
import { WhatIfBand } from './what-if-band.tsx';
import { WhatIfMap } from './what-if-map.tsx';
import { WhatIfTable } from './what-if-table.tsx';
import './what-if.css';

/** Until nothing has moved for this long, upper bounds are left out: verdicts and counts follow the hand without them. */
const REST_MS = 250;

/** The bench: settings are moved, and map, counts and table follow; the measured result is never touched. */
export function WhatIfView(props: DiscWorkspaceProps) {
  const { api, session, disc, units, selected, onSelect, onKey } = props;
  const [history, setHistory] = useKept<History>(disc, 'what-if', measuredHistory);
  const bench = history.present;
  const { settings: state, points } = bench;
  const trial = useTrial(api, session, points);
  // While a trial runs, or where it is refused, the bench shows the measured points.
  const base = trial.kind === 'done' ? trial.disc : disc;
  const atRest = useRest(state);
  const measured = useMemo(
    () => ({ result: base.result, definition: base.definition, welds: base.welds }),
    [base],
  );
  const tried = useMemo(() => applyWhatIf(measured, state, { bounds: atRest }), [measured, state, atRest]);
  const rows = useMemo(() => benchRows(disc, tried, state.dropped), [disc, tried, state.dropped]);
  const isTried = !isUntouched(bench);
  const words = stateWords(disc, bench, units) + trialWords[trial.kind];
  const step = (next: BenchState, running: string | null) => setHistory((now) => changed(now, next, running));
  const change = (settings: WhatIfState, running: string | null) => step({ ...bench, settings }, running);
  const settle = () => setHistory(settled);
  useCommandHandlers({ undo: () => setHistory(undone), redo: () => setHistory(redone) });
  const evaluated = evaluatedWords(
    disc,
    tried.stations.map(({ station }) => station),
    state.dropped,
  );
  const stem = `${fileStem(disc.plan.title)}-${isTried ? 'what-if-not-measured' : 'measured'}`;
  return (
    <main className={`what-if-view ${isTried ? 'tried-state' : ''}`}>
      <WhatIfBand
        disc={disc}
        tried={tried}
        isTried={isTried}
        words={words}
        units={units}
        canUndo={history.past.length > 0}
        canRedo={history.future.length > 0}
        onUndo={() => setHistory(undone)}
        onRedo={() => setHistory(redone)}
        onMeasured={() => step(measuredBench, null)}
        onCorrection={(correction) => change(withCorrection(state, correction), null)}
      />
      <BenchControls {...{ disc, state, units, selected }} onChange={change} onSettle={settle}>
        <Group title="Datum points" set={points.length}>
          <DropPoints
            {...{ api, disc, points, trial, units, selected }}
            job={session.job}
            onPoints={(next) => step({ ...bench, points: next }, null)}
          />
        </Group>
      </BenchControls>
      <ChartPanel
        title="Position around the disc"
        caption={isTried ? notMeasured : 'as measured'}
        label={`${isTried ? notMeasured : 'As measured'}: ${tried.summary.conforming} of ${disc.result.summary.stations} stations conform${evaluated === null ? '' : `; ${evaluated}`}. Every value is in the table. Arrow keys move the selection.`}
        onKey={onKey}
        sheet={benchSheet(rows, words, units)}
        fileName={`${stem}-map`}
        pictureTitle={`${isTried ? `${notMeasured}: ` : ''}${disc.plan.title}`}
        foot={
          <>
            <LegendItem width={18} mark={<path className="was" d="M1 6h16" />}>
              as measured
            </LegendItem>
            <LegendItem width={20} height={8} mark={<path className="tolerance" d="M0 4h20" />}>
              tolerance
            </LegendItem>
            <span>seen from +Z, values beyond the rim stand at it</span>
            {evaluated !== null && <span>{evaluated}</span>}
          </>
        }
      >
        {(width, height) => (
          <WhatIfMap
            rows={rows}
            conforming={tried.summary.conforming}
            planned={disc.result.summary.stations}
            tolerance={state.tolerance ?? disc.plan.tolerance}
            plannedTolerance={disc.plan.tolerance}
            tried={isTried}
            units={units}
            selected={selected}
            onSelect={onSelect}
            width={width}
            height={height}
          />
        )}
      </ChartPanel>
      <WhatIfTable
        rows={rows}
        words={words}
        units={units}
        fileName={`${stem}-stations`}
        selected={selected}
        onSelect={onSelect}
        onDrop={(station, dropped) => change(withDropped(state, station, dropped), null)}
      />
    </main>
  );
}

/** What must be said where the figures do not follow the points that are left out. */
const trialWords: Record<Trial['kind'], string> = {
  none: '',
  done: '',
  running: ' (reducing again; until then the figures are those with these points)',
  refused: ' (cannot be reduced without these points; the figures are those with them)',
};

/** Whether a state has stood for a while. */
function useRest(state: WhatIfState): boolean {
  const [rested, setRested] = useState<WhatIfState | null>(state);
  useEffect(() => {
    const timer = setTimeout(() => setRested(state), REST_MS);
    return () => clearTimeout(timer);
  }, [state]);
  return rested === state;
}
