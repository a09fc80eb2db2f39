import { useMemo, useState } from 'react';
import { type QuantityName, quantities } from '../../format/quantities.ts';
import { fileStem } from '../../parts/download.ts';
import { Segmented } from '../../parts/segmented.tsx';
import type { DiscWorkspaceProps } from '../../shell/workspace.ts';
import { recordOf } from '../../state/session.ts';
import { recordWords, stationChanges } from './changes.ts';
import { ChangesTable } from './changes-table.tsx';
import { Differences } from './differences.tsx';
import { TwoMaps } from './two-maps.tsx';
import './compare.css';

/** Two reductions side by side: before and after exclusions, with another plan, or of another point file. */
export function CompareView(props: DiscWorkspaceProps) {
  const { disc, session, actions, units, dark, settings, onSettings, quantity, onQuantity } = props;
  const { selected, marked, onSelect, onKey } = props;
  const [against, setAgainst] = useState<'reference' | 'previous'>('reference');
  const present = recordOf(session);
  const { reference, previous } = session;
  const before = (against === 'reference' ? (reference ?? previous) : (previous ?? reference)) ?? null;
  const changes = useMemo(() => (before === null ? [] : stationChanges(before.disc, disc)), [before, disc]);
  const stem = `${fileStem(disc.plan.title)}-compared`;
  const bothLevels = before?.disc.result.pattern != null && disc.result.pattern !== null;
  const offered = quantities.filter(({ name }) => name !== 'relative' || bothLevels);
  const keep = (
    <button type="button" className="button" onClick={actions.keepReference}>
      Keep this reduction
    </button>
  );
  return (
    <main className={`compare-view ${before === null ? 'alone' : ''}`}>
      <header className="topics">
        {reference !== null && previous !== null && (
          <Segmented
            title="Compare with"
            value={against}
            onChange={setAgainst}
            choices={[
              ['reference', 'Kept', 'Compare with the reduction that was kept'],
              ['previous', 'Previous', 'Compare with the reduction before this one'],
            ]}
          />
        )}
        {before !== null && present !== null && (
          <p className="compared">
            <b>Before:</b> {recordWords(before)} <b>After:</b> {recordWords(present)}
          </p>
        )}
        <span className="undo-tools">
          {before !== null && (
            <>
              <label className="quantity-choice">
                <span className="unseen">Quantity of the maps</span>
                <select value={quantity} onChange={(event) => onQuantity(event.target.value as QuantityName)}>
                  {offered.map(({ name, title }) => (
                    <option key={name} value={name}>
                      {title}
                    </option>
                  ))}
                </select>
              </label>
              <Segmented
                title="Six errors in"
                value={settings.frame}
                onChange={(frame) => onSettings({ frame })}
                choices={[
                  ['blade', 'Blade frame', 'Six errors in the blade frame'],
                  ['disc', 'Disc frame', 'Six errors in the disc frame'],
                ]}
              />
            </>
          )}
          {before !== null && keep}
          {reference !== null && (
            <button type="button" className="button" onClick={actions.dropReference}>
              Forget the kept one
            </button>
          )}
        </span>
      </header>
      {before === null || present === null ? (
        <section className="panel no-comparison" aria-label="Nothing to compare with">
          <h2>Nothing to compare with yet</h2>
          <p>
            Keep this reduction, then leave out points, open another plan or another point file: the
            differences will stand here, station by station. After a second reduction the one before it is
            offered by itself.
          </p>
          {keep}
        </section>
      ) : (
        <>
          <Differences before={before} after={present} fileName={`${stem}-inputs`} />
          <TwoMaps
            before={before.disc}
            after={disc}
            quantity={quantity === 'relative' && !bothLevels ? 'position' : quantity}
            units={units}
            dark={dark}
            selected={selected}
            marked={marked}
            onSelect={onSelect}
            onKey={onKey}
          />
          <ChangesTable
            changes={changes}
            units={units}
            frame={settings.frame}
            fileName={`${stem}-stations`}
            selected={selected}
            marked={marked}
            onSelect={onSelect}
          />
        </>
      )}
    </main>
  );
}
