import { useId, useState } from 'react';
import { applyTable, readTable, tableColumns } from '../nominal-table.ts';
import { usePlanContext } from '../plan-context.tsx';

/** A table copied out of a spreadsheet: looked at before it changes anything. */
export function PasteTable() {
  const { draft, change } = usePlanContext();
  const [text, setText] = useState('');
  const id = useId();
  const table = text.trim() === '' ? null : readTable(text);
  return (
    <section className="block paste">
      <h3>
        <label htmlFor={id}>Paste nominals from a spreadsheet</label>
      </h3>
      <p className="block-hint" id={`${id}-hint`}>
        Copy the cells there and paste them here:{' '}
        {tableColumns.map(({ title }) => title.toLowerCase()).join(', ')}; any order with a header row, this
        order without one. Decimal point or comma.
      </p>
      <textarea
        id={id}
        value={text}
        rows={text === '' ? 2 : 5}
        spellCheck={false}
        aria-describedby={`${id}-hint`}
        placeholder={'station\tradius\taxial\theight\tstagger\tangle\ttolerance'}
        onChange={(event) => setText(event.target.value)}
      />
      {table !== null && (
        <div className="paste-result" role="status">
          <p className={table.faults.length > 0 ? 'field-fault' : ''}>
            {table.rows.length} {table.rows.length === 1 ? 'station' : 'stations'} with{' '}
            {table.columns.length === 0 ? 'no value' : table.columns.join(', ')}.
            {table.faults.length > 0 && ` ${table.faults.slice(0, 3).join(' ')}`}
          </p>
          <button
            type="button"
            className="button strong"
            disabled={table.rows.length === 0 || table.faults.length > 0}
            onClick={() => {
              change(applyTable(draft, table), 'pasted table');
              setText('');
            }}
          >
            Take into the plan
          </button>
          <button type="button" className="button quiet" onClick={() => setText('')}>
            Discard
          </button>
        </div>
      )}
    </section>
  );
}
