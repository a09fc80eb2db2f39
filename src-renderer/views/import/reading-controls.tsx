import type { ImportMapping, PointsPreview } from '../../../src-main/api.ts';
import { Segmented } from '../../parts/segmented.tsx';

const delimiters = [
  [',', 'Comma', 'Comma'],
  [';', 'Semicolon', 'Semicolon'],
  ['\t', 'Tab', 'Tabulator'],
  ['|', 'Bar', 'Vertical bar'],
  [' ', 'Blanks', 'One or more blanks'],
] as const;
const encodings = [
  ['utf-8', 'UTF-8', 'UTF-8'],
  ['latin1', 'Latin-1', 'Latin-1 (Windows-1252)'],
  ['utf-16le', 'UTF-16 LE', 'UTF-16 LE (little endian)'],
  ['utf-16be', 'UTF-16 BE', 'UTF-16 BE (big endian)'],
] as const;
const decimals = [
  ['.', '1.5', 'Decimal point, as in 1.5'],
  [',', '1,5', 'Decimal comma, as in 1,5'],
] as const;
const units = [
  ['mm', 'mm', 'mm (millimetres)'],
  ['inch', 'inch', 'inch (25.4 mm)'],
  ['µm', 'µm', 'µm (micrometres)'],
] as const;
const headers = [
  ['yes', 'Yes', 'Yes, a row names the columns'],
  ['no', 'No', 'No, the first row is a point'],
] as const;

interface ReadingControlsProps {
  readonly preview: PointsPreview;
  readonly onState: (part: ImportMapping) => void;
}

/** What was detected of the file as a whole, each to be stated otherwise. */
export function ReadingControls({ preview, onState }: ReadingControlsProps) {
  return (
    <div className="reading-controls">
      <Control title="Cells are parted by" name="delimiter" preview={preview}>
        <Segmented
          title="Delimiter"
          value={preview.taken.delimiter ?? ','}
          onChange={(delimiter) => onState({ delimiter })}
          choices={delimiters}
        />
      </Control>
      <Control title="Decimal sign" name="decimal" preview={preview}>
        <Segmented
          title="Decimal sign"
          value={preview.taken.decimal ?? '.'}
          onChange={(decimal) => onState({ decimal })}
          choices={decimals}
        />
      </Control>
      <Control title="Unit of length" name="unit" preview={preview}>
        <Segmented
          title="Length unit of the file"
          value={preview.taken.unit ?? 'mm'}
          onChange={(unit) => onState({ unit })}
          choices={units}
        />
        <span className="extent">{extentText(preview)}</span>
      </Control>
      <Control title="Column names" name="header" preview={preview}>
        <Segmented
          title="Column names"
          value={preview.taken.header === true ? 'yes' : 'no'}
          // Columns named by their headers mean nothing without one.
          onChange={(header) => onState({ header: header === 'yes', columns: undefined })}
          choices={headers}
        />
      </Control>
      <Control title="Encoding" name="encoding" preview={preview}>
        <Segmented
          title="Encoding"
          value={preview.taken.encoding ?? 'utf-8'}
          onChange={(encoding) => onState({ encoding })}
          choices={encodings}
        />
      </Control>
    </div>
  );
}

interface ControlProps {
  readonly title: string;
  readonly name: string;
  readonly preview: PointsPreview;
  readonly children: React.ReactNode;
}

function Control({ title, name, preview, children }: ControlProps) {
  const isStated = preview.stated.includes(name);
  const word = isStated ? 'as stated' : name === 'unit' ? unitWords[preview.unitBecause] : 'detected';
  return (
    <div className={isStated ? 'control stated' : 'control'}>
      <span className="control-title">
        {title} <em>{word}</em>
      </span>
      {children}
    </div>
  );
}

const unitWords = {
  stated: 'as stated',
  header: 'by the header',
  size: 'guessed by size',
  nothing: 'not known',
} as const;

function extentText({ extent, taken }: PointsPreview): string {
  if (extent === null) return '';
  const factor = { mm: 1, inch: 25.4, µm: 0.001 }[taken.unit ?? 'mm'];
  return `The points span ${extent.map((span) => (span * factor).toFixed(0)).join(' × ')} mm`;
}
