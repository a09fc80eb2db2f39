import { useEffect, useRef, useState } from 'react';
import { countOf, type Units, unitSymbol } from '../../format/format.ts';
import { bladeErrors, discErrors, type QuantityName, quantityOf } from '../../format/quantities.ts';
import { SheetTools } from '../../parts/sheet-tools.tsx';
import { StandingText } from '../../parts/verdict-mark.tsx';
import {
  changesSheet,
  errorChangeText,
  isChanged,
  positionTexts,
  type Side,
  type StationChange,
  showsChange,
} from './changes.ts';

interface ChangesTableProps {
  readonly changes: readonly StationChange[];
  readonly units: Units;
  readonly frame: 'blade' | 'disc';
  readonly fileName: string;
  readonly selected: number | null;
  readonly marked: readonly number[];
  readonly onSelect: (station: number) => void;
}

/** Change of the six errors, the position and the verdict of each station. */
export function ChangesTable(props: ChangesTableProps) {
  const { changes, units, frame, fileName, selected, marked, onSelect } = props;
  const [onlyChanged, setOnlyChanged] = useState(false);
  const scroll = useRef<HTMLDivElement>(null);
  // Keeps the selected row in sight without moving the page.
  useEffect(() => {
    const box = scroll.current;
    const row = box?.querySelector(`[data-station="${selected}"]`);
    if (box == null || row == null) return;
    const { top, bottom } = row.getBoundingClientRect();
    const head = box.querySelector('thead')?.getBoundingClientRect().bottom ?? 0;
    const foot = box.getBoundingClientRect().top + box.clientHeight;
    box.scrollTop += Math.min(top - head, 0) + Math.max(bottom - foot, 0);
  }, [selected]);
  const changed = changes.filter((change) => isChanged(change, units));
  const rows = onlyChanged ? changed : changes;
  const errors: readonly QuantityName[] = frame === 'blade' ? bladeErrors : discErrors;
  const length = unitSymbol('length', units);
  return (
    <section className="changes panel" aria-label="Change by station">
      <header className="chart-head">
        <div className="chart-title">
          <h2>Change by station</h2>
          <p className="caption">
            after minus before; {changed.length} of {countOf(changes.length, 'station')} changed
          </p>
        </div>
        <label className="only-changed">
          <input
            type="checkbox"
            checked={onlyChanged}
            onChange={(event) => setOnlyChanged(event.target.checked)}
          />
          only changed
        </label>
        <SheetTools sheet={changesSheet(rows, units)} fileName={fileName} of="the table of changes" />
      </header>
      <div ref={scroll} className="largest-scroll">
        <table>
          <thead>
            <tr className="units">
              <td />
              <th colSpan={3} scope="colgroup">
                Δ displacement, {length}
              </th>
              <th colSpan={3} scope="colgroup">
                Δ rotation, {unitSymbol('rotation', units)}
              </th>
              <th colSpan={3} scope="colgroup">
                Position, {length}
              </th>
              <td colSpan={2} />
            </tr>
            <tr>
              <th scope="col">St</th>
              {errors.map((name) => (
                <th key={name} scope="col">
                  {quantityOf(name).short}
                </th>
              ))}
              <th scope="col">before</th>
              <th scope="col">after</th>
              <th scope="col">Δ</th>
              <th scope="col" className="as-text">
                verdict before
              </th>
              <th scope="col" className="as-text">
                verdict after
              </th>
            </tr>
          </thead>
          <tbody>
            {rows.map((change) => (
              <tr
                key={change.station}
                data-station={change.station}
                aria-current={change.station === selected}
                className={marked.includes(change.station) ? 'marked' : undefined}
              >
                <th scope="row">
                  <button type="button" className="link" onClick={() => onSelect(change.station)}>
                    {change.station}
                  </button>
                </th>
                {errors.map((name) => (
                  <ChangeCell key={name} name={name} text={errorChangeText(change, name, units)} />
                ))}
                <PositionCells change={change} units={units} />
                <td className="as-text">
                  <SideVerdict side={change.before} />
                </td>
                <td
                  className={`as-text ${change.before?.standing === change.after?.standing ? '' : 'other-verdict'}`}
                >
                  <SideVerdict side={change.after} />
                  {change.before?.standing !== change.after?.standing && <b> changed</b>}
                </td>
              </tr>
            ))}
          </tbody>
        </table>
        {rows.length === 0 && <p className="empty-note">No station has changed.</p>}
      </div>
    </section>
  );
}

function SideVerdict({ side }: { readonly side: Side | null }) {
  return side === null ? 'not planned' : <StandingText standing={side.standing} />;
}

function PositionCells({ change, units }: { readonly change: StationChange; readonly units: Units }) {
  const texts = positionTexts(change, units);
  return (
    <>
      <td>{texts.before}</td>
      <td>{texts.after}</td>
      <ChangeCell name="position" text={texts.change} />
    </>
  );
}

/** A change that does not show in the last decimal stands back behind those that do. */
function ChangeCell({ name, text }: { readonly name: QuantityName; readonly text: string }) {
  return (
    <td data-quantity={name} className={showsChange(text) ? 'differs' : 'same'}>
      {text}
    </td>
  );
}
