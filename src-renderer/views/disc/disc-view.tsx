import { startTransition, useEffect } from 'react';
import { flushSync } from 'react-dom';
import type { DiscWorkspaceProps } from '../../shell/workspace.ts';
import { afterPaint } from '../../state/after-paint.ts';
import { useKept } from '../../state/kept.ts';
import { stationNote } from '../../state/work.ts';
import { PolarMap } from '../polar-map/polar-map.tsx';
import { STATION_NOTE } from '../session/session-view.tsx';
import { StationCard } from '../station-card/station-card.tsx';
import { StationTable } from '../station-table/station-table.tsx';
import { Summary } from '../summary/summary.tsx';
import './disc-view.css';

/** The reduced disc: verdicts, map, table and the selected station. */
export function DiscView(props: DiscWorkspaceProps) {
  const { disc, units, dark, settings, onSettings, quantity, onQuantity, selected, onSelect, marked } = props;
  // A new disc's map is painted before its table and card are made; they follow at once, in the same places, and are there
  // from the start where the person comes back to the disc.
  const [isWhole, setWhole] = useKept(disc, 'table-and-card', false);
  useEffect(
    () => (isWhole ? undefined : afterPaint(() => startTransition(() => setWhole(true)))),
    [isWhole, setWhole],
  );
  return (
    <main className="disc-view">
      <Summary disc={disc} units={units} onSelect={onSelect} />
      <PolarMap
        disc={disc}
        units={units}
        dark={dark}
        quantity={quantity}
        onQuantity={onQuantity}
        selected={selected}
        marked={marked}
        onSelect={onSelect}
        onKey={props.onKey}
      />
      {isWhole ? (
        <>
          <StationTable
            disc={disc}
            units={units}
            frame={settings.frame}
            onFrame={(frame) => onSettings({ frame })}
            quantity={quantity}
            selected={selected}
            onSelect={onSelect}
            marked={marked}
            onMark={props.onMark}
          />
          <StationCard
            disc={disc}
            units={units}
            frame={settings.frame}
            quantity={quantity}
            onQuantity={onQuantity}
            selected={selected}
            onStep={props.onStep}
            note={stationNote(props.work.notes, selected)}
            onNote={() => {
              flushSync(() => props.onWorkspace('session'));
              document.getElementById(STATION_NOTE)?.focus();
            }}
          />
        </>
      ) : (
        <>
          <div className="station-table panel" />
          <div className="station-card panel" />
        </>
      )}
    </main>
  );
}
