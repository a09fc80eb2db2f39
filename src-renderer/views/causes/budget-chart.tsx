import type { ComponentName } from '../../../shared-math/diagnosis/findings.ts';
import { Hit } from '../../chart/hit.tsx';
import { scaleOf } from '../../chart/scale.ts';
import { UprightLines } from '../../chart/scale-lines.tsx';
import { wrapped } from '../../chart/wrapped.ts';
import { formatLimit, formatValue, toDisplay, type Units, unitWord } from '../../format/format.ts';
import { VerdictShape } from '../../parts/verdict-mark.tsx';
import {
  againstLine,
  type CauseRow,
  chartEnd,
  intervalText,
  shareText,
  standingOf,
  standingWords,
} from './rows.ts';

interface BudgetChartProps {
  readonly rows: readonly CauseRow[];
  readonly tolerance: number;
  readonly units: Units;
  readonly chosen: ComponentName | null;
  readonly onChoose: (name: ComponentName) => void;
  readonly width: number;
  readonly height: number;
}

const AXIS = 34;
const HEAD = 22;
const BAR = 12;
/** From the middle of a mark to the figure behind it, in pixels. */
const MARK_GAP = 8;
/** As the table of the budget marks its lines. */
export const allocationMarks = { over: 'nonconforming', uncertain: 'unproven' } as const;
/** About the width of a letter of a name, and the height of its lines, in pixels. */
const CHARACTER = 6.6;
const LINE = 14;

/** Size of each component against its allocation, largest first; one row each. */
export function BudgetChart(props: BudgetChartProps) {
  const { rows, tolerance, units, chosen, onChoose, width, height } = props;
  const narrow = width < 640;
  const [left, right] = narrow ? [160, 186] : [226, 196];
  const end = chartEnd(rows, tolerance);
  const pitch = Math.min(70, (height - AXIS - HEAD) / Math.max(1, rows.length));
  const bottom = HEAD + pitch * rows.length;
  const scale = scaleOf(0, toDisplay(end, 'size', units), left, width - right, narrow ? 5 : 7);
  const place = (value: number): number => scale.at(toDisplay(Math.min(value, end), 'size', units));
  const figures = width - right + 14;

  return (
    <>
      <g>
        <text className="faint" x={left} y={13}>
          2·|δ| caused alone, {unitWord('size', units)}
        </text>
        <text className="faint" x={figures} y={13}>
          size, interval
        </text>
        <text className="faint" x={width - 14} y={13} textAnchor="end">
          share
        </text>
      </g>
      <UprightLines scale={scale} top={HEAD} bottom={bottom} />
      {rows.map((row, index) => (
        <Row
          key={row.component.name}
          row={row}
          units={units}
          top={HEAD + index * pitch}
          pitch={pitch}
          left={left}
          stop={width - right}
          figures={figures}
          width={width}
          end={end}
          place={place}
          chosen={row.component.name === chosen}
          onChoose={onChoose}
        />
      ))}
      <path className="tolerance" d={`M${place(tolerance)} ${HEAD - 2}V${bottom + 2}`} />
      <text className="limit-text" x={place(tolerance)} y={bottom + 29} textAnchor="middle">
        tolerance {formatLimit(tolerance, 'size', units)}
      </text>
    </>
  );
}

interface RowProps {
  readonly row: CauseRow;
  readonly units: Units;
  readonly top: number;
  readonly pitch: number;
  readonly left: number;
  readonly stop: number;
  readonly figures: number;
  readonly width: number;
  readonly end: number;
  readonly place: (value: number) => number;
  readonly chosen: boolean;
  readonly onChoose: (name: ComponentName) => void;
}

function Row(props: RowProps) {
  const { row, units, top, pitch, left, stop, figures, width, end, place, chosen, onChoose } = props;
  const { component, line, leading } = row;
  const { size } = component;
  const middle = top + pitch / 2;
  const titles = wrapped(component.title, Math.floor((left - 18) / CHARACTER));
  // The line of the budget stands below the name where there is room for it.
  const under = pitch >= 36 + (titles.length - 1) * LINE;
  const first = middle + (under ? -2 : 4) - ((titles.length - 1) * LINE) / 2;
  const standing = standingOf(component);
  const against = againstLine(row);
  const mark = against === 'over' || against === 'uncertain' ? allocationMarks[against] : null;
  return (
    <g
      data-component={component.name}
      className={`cause-row ${standing} ${against ?? ''} ${chosen ? 'chosen' : ''}`}
    >
      <rect className="row-ground" x={6} y={top + 1} width={width - 12} height={pitch - 2} rx={6} />
      {chosen && (
        <rect
          className="row-mark"
          x={6}
          y={top + 5}
          width={3}
          height={pitch - 10}
          rx={1.5}
          data-screen-only
        />
      )}
      <text className="row-title" y={first}>
        {titles.map((text, index) => (
          <tspan key={text} x={18} dy={index === 0 ? 0 : LINE}>
            {text}
          </tspan>
        ))}
      </text>
      {under && (
        <text className="faint" x={18} y={first + titles.length * LINE}>
          {leading ? 'leading, ' : ''}
          {lineText(row, units)}
        </text>
      )}
      {size === null ? (
        <text className="row-words" x={left} y={middle + 4}>
          {standingWords[standing]}
        </text>
      ) : (
        <>
          <Bar size={size} top={middle - BAR / 2} left={left} stop={stop} end={end} place={place} />
          {line?.allocated != null && (
            <path className="allocation" d={`M${place(line.allocated)} ${middle - 12}v24m-4 0h8m-8 -24h8`} />
          )}
          {mark !== null && (
            <g
              className={`mark ${mark}`}
              transform={`translate(${figures - MARK_GAP} ${pitch < 36 ? middle : middle - 6.5}) scale(.8)`}
            >
              <VerdictShape standing={mark} />
            </g>
          )}
          <text className="row-figure" x={figures} y={pitch < 36 ? middle + 4 : middle - 2}>
            {formatValue(size.value, 'size', units)}
          </text>
          {pitch >= 36 && (
            <text className="faint" x={figures} y={middle + 12}>
              {standing === 'noise' ? 'not distinguishable' : intervalText(size, 'size', units)}
            </text>
          )}
          <text className="row-share" x={width - 14} y={middle + 4} textAnchor="end">
            {shareText(component.share)}
          </text>
        </>
      )}
      <Hit
        x={6}
        y={top + 1}
        width={width - 12}
        height={pitch - 2}
        title={spokenRow(row, units)}
        onClick={() => onChoose(component.name)}
      />
    </g>
  );
}

function Bar(props: {
  readonly size: { readonly value: number; readonly low: number; readonly high: number };
  readonly top: number;
  readonly left: number;
  readonly stop: number;
  readonly end: number;
  readonly place: (value: number) => number;
}) {
  const { size, top, left, stop, end, place } = props;
  const middle = top + BAR / 2;
  if (size.value > end)
    // Beyond the scale: the bar is cut, and its figure says how far it goes.
    return (
      <>
        <rect className="bar" x={left} y={top} width={stop - left} height={BAR} />
        <path className="bar-cut" d={`M${stop - 16} ${top - 3}l5 ${BAR + 6}m4 ${-BAR - 6}l5 ${BAR + 6}`} />
      </>
    );
  const [low, high] = [place(Math.max(0, size.low)), place(size.high)];
  return (
    <>
      <rect className="bar" x={left} y={top} width={Math.max(1, place(size.value) - left)} height={BAR} />
      <path
        className="whisker"
        d={`M${low} ${middle}H${high}M${low} ${middle - 4}v8M${high} ${middle - 4}v8`}
      />
    </>
  );
}

function lineText(row: CauseRow, units: Units): string {
  const { component, line } = row;
  if (component.notExamined !== null) return '';
  return line?.allocated == null ? 'no allocation' : allocationText(line.allocated, row, units);
}

function allocationText(allocated: number, row: CauseRow, units: Units): string {
  const limit = formatLimit(allocated, 'size', units);
  switch (againstLine(row)) {
    case 'over':
      return `over its ${limit}`;
    case 'uncertain':
      return `over its ${limit}, uncertain`;
    case 'within': {
      // The bar shows displacement, which may reach beyond the mark where the position that is used does not.
      const { consumed } = row.component;
      const uses = consumed === null ? '' : `uses ${formatValue(consumed, 'size', units)}, `;
      return `${uses}within its ${limit}`;
    }
    case null:
      return `allocated ${limit}`;
  }
}

/** A row in words. */
export function spokenRow(row: CauseRow, units: Units): string {
  const { component, line, leading } = row;
  const { size } = component;
  if (component.notExamined !== null) return `${component.title}: not examined. ${component.notExamined}`;
  const parts = [`${component.title}${leading ? ', leading cause' : ''}`];
  if (size !== null)
    parts.push(
      `${formatValue(size.value, 'size', units)} ${unitWord('size', units)}, interval ${intervalText(size, 'size', units)}`,
    );
  if (standingOf(component) !== 'cause') parts.push(standingWords[standingOf(component)]);
  if (line?.allocated != null) parts.push(allocationText(line.allocated, row, units));
  return parts.join(', ');
}
