import { useState } from 'react';
import { countOf } from '../format/format.ts';
import { copyText, download } from './download.ts';
import { delimited, type Sheet } from './sheet.ts';

interface SheetToolsProps {
  readonly sheet: Sheet;
  /** Without its ending. */
  readonly fileName: string;
  /** What the table shows, for people who hear the page. */
  readonly of: string;
}

/** Copies a table for a spreadsheet, or saves it as CSV. */
export function SheetTools({ sheet, fileName, of }: SheetToolsProps) {
  const [note, setNote] = useState('');
  async function copy() {
    const copied = await copyText(delimited(sheet, '\t'));
    setNote(copied ? `${countOf(sheet.rows.length, 'row')} copied` : 'not allowed: save the CSV instead');
  }
  return (
    <>
      <span className="tool-note" role="status">
        {note}
      </span>
      <button
        type="button"
        className="button quiet tool"
        aria-label={`Copy ${of}`}
        onClick={() => void copy()}
      >
        Copy
      </button>
      <button
        type="button"
        className="button quiet tool"
        aria-label={`Save ${of} as CSV`}
        onClick={() => download(`${fileName}.csv`, delimited(sheet, ','), 'text/csv')}
      >
        CSV
      </button>
    </>
  );
}
