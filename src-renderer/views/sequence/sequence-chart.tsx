import type { SequenceFinding } from '../../../shared-math/diagnosis/findings.ts';
import { Hit } from '../../chart/hit.tsx';
import { type Scale, scaleOf } from '../../chart/scale.ts';
import { LevelLines } from '../../chart/scale-lines.tsx';
import { formatWithUnit, toDisplay, type Units, unitSymbol } from '../../format/format.ts';
import { quantityOf } from '../../format/quantities.ts';
import { isChosen } from '../../state/selection.ts';
import { bandOutline, type SequenceMark, type SequencePanel, sequenceRange } from './panels.ts';

interface SequenceChartProps {
  readonly sequence: SequenceFinding;
  readonly panels: readonly SequencePanel[];
  readonly units: Units;
  readonly selected: number | null;
  readonly marked: readonly number[];
  readonly onSelect: (station: number) => void;
  readonly width: number;
  readonly height: number;
}

const GAP = 22;

/** Six small charts, one an error: welds in their order, tools as grounds, lines with their interval. */
export function SequenceChart(props: SequenceChartProps) {
  const { panels, width, height } = props;
  const columns = width < 420 ? 1 : width < 720 ? 2 : 3;
  const rows = Math.ceil(panels.length / columns);
  const [w, h] = [(width - 24 - (columns - 1) * GAP) / columns, (height - 6 - (rows - 1) * 14) / rows];
  return panels.map((panel, index) => (
    <g
      key={panel.error}
      transform={`translate(${12 + (index % columns) * (w + GAP)} ${2 + Math.floor(index / columns) * (h + 14)})`}
    >
      <Panel {...props} panel={panel} width={w} height={h} last={index >= panels.length - columns} />
    </g>
  ));
}

interface PanelProps extends SequenceChartProps {
  readonly panel: SequencePanel;
  readonly last: boolean;
}

function Panel({ sequence, panel, units, selected, marked, onSelect, width, height, last }: PanelProps) {
  const { kind, label } = quantityOf(panel.error);
  const [left, right, top, bottom] = [46, width - 6, 26, height - 20];
  const [first, final] = sequenceRange(sequence);
  const x = scaleOf(first - 0.6, final + 0.6, left, right, 8);
  const room = 0.14 * (panel.high - panel.low || 1e-9);
  const y = scaleOf(
    toDisplay(panel.low - room, kind, units),
    toDisplay(panel.high + room, kind, units),
    bottom,
    top,
    5,
  );
  const place = (value: number): number =>
    Math.max(top + 5, Math.min(bottom - 5, y.at(toDisplay(value, kind, units))));
  const changes = sequence.changes.map((change) => change.sequence);
  const edges = [first, ...changes, final + 1];
  const tools = [
    sequence.changes[0]?.from ?? sequence.welds[0]?.tool ?? '',
    ...sequence.changes.map((c) => c.to),
  ];
  return (
    <>
      <text className="panel-name" x={0} y={14}>
        {label}, {unitSymbol(kind, units)}
      </text>
      {tools.map((tool, index) => {
        const [from, to] = [edges[index] ?? first, edges[index + 1] ?? final + 1];
        const [a, b] = [Math.max(left, x.at(from - 0.5)), Math.min(right, x.at(to - 0.5))];
        return (
          <g key={`${tool} ${from}`}>
            <rect
              className={`tool-ground ${index % 2 === 1 ? 'other' : ''}`}
              x={a}
              y={top}
              width={Math.max(0, b - a)}
              height={bottom - top}
            />
            <text className="faint" x={(a + b) / 2} y={14} textAnchor="middle">
              {tool}
            </text>
          </g>
        );
      })}
      <LevelLines scale={y} left={left} right={right} />
      {changes.map((change) => (
        <path key={change} className="tool-change" d={`M${x.at(change - 0.5)} ${top - 6}V${bottom}`} />
      ))}
      {panel.lines.map(({ tool, from, to, band }) => (
        <g key={`${tool} ${from.sequence}`}>
          <path
            className="line-band"
            d={bandOutline(band ?? [from, to], (sequence, value) => `${x.at(sequence)} ${place(value)}`)}
          />
          <path
            className="wear-line"
            d={`M${x.at(from.sequence)} ${place(from.value)}L${x.at(to.sequence)} ${place(to.value)}`}
          />
        </g>
      ))}
      {panel.marks.map((mark) => (
        <Mark
          key={mark.station}
          mark={mark}
          x={x}
          y={place(mark.value)}
          chosen={isChosen(mark.station, selected, marked)}
        />
      ))}
      {panel.marks.map((mark) => (
        <Hit
          key={mark.station}
          x={x.at(mark.sequence - 0.5)}
          y={top}
          width={x.at(1) - x.at(0)}
          height={bottom - top}
          title={`Weld ${mark.sequence}, station ${mark.station}, tool ${mark.tool}: ${formatWithUnit(mark.value, kind, units)}${mark.outlier ? ', outlying' : ''}`}
          onClick={() => onSelect(mark.station)}
        />
      ))}
      <path className="axis" d={`M${left} ${bottom}H${right}`} />
      {x.ticks
        .filter((tick) => Number.isInteger(tick) && tick >= first && tick <= final)
        .map((tick) => (
          <text key={tick} className="faint" x={x.at(tick)} y={bottom + 14} textAnchor="middle">
            {tick}
          </text>
        ))}
      {last && (
        <text className="faint" x={left - 6} y={bottom + 14} textAnchor="end">
          weld
        </text>
      )}
    </>
  );
}

function Mark(props: {
  readonly mark: SequenceMark;
  readonly x: Scale;
  readonly y: number;
  readonly chosen: boolean;
}) {
  const { mark, x, y, chosen } = props;
  const cx = x.at(mark.sequence);
  const size = chosen ? 6 : 4;
  return (
    <g data-station={mark.station} className={chosen ? 'weld chosen' : 'weld'}>
      {chosen && <circle className="weld-halo" cx={cx} cy={y} r={10} />}
      {mark.outlier ? (
        <path
          className="outlying"
          d={`M${cx} ${y - size - 1.5}l${size + 1.5} ${size + 1.5}l${-size - 1.5} ${size + 1.5}l${-size - 1.5} ${-size - 1.5}Z`}
        />
      ) : (
        <circle className="dot" cx={cx} cy={y} r={size} />
      )}
    </g>
  );
}
