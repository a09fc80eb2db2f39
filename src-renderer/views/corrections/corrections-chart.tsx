import { conformingAfter } from '../../../shared-math/diagnosis/corrections/conforming-after.ts';
import type { Correction, CorrectionKind } from '../../../shared-math/diagnosis/corrections/correction.ts';
import { objectionsTo } from '../../../shared-math/diagnosis/corrections/objections.ts';
import type { ReducedDisc } from '../../../src-main/api.ts';
import { Hit } from '../../chart/hit.tsx';
import { scaleOf } from '../../chart/scale.ts';
import { UprightLines } from '../../chart/scale-lines.tsx';
import {
  formatCount,
  formatLimit,
  formatValue,
  toDisplay,
  type Units,
  unitWord,
} from '../../format/format.ts';

interface CorrectionsChartProps {
  readonly corrections: readonly Correction[];
  readonly disc: ReducedDisc;
  readonly tolerance: number;
  readonly units: Units;
  readonly chosen: CorrectionKind | null;
  readonly onChoose: (kind: CorrectionKind) => void;
  readonly width: number;
  readonly height: number;
}

const [HEAD, AXIS] = [20, 34];

/** Largest position as measured and after each correction, with its interval and the stations that would conform. */
export function CorrectionsChart(props: CorrectionsChartProps) {
  const { corrections, disc, tolerance, units, chosen, onChoose, width, height } = props;
  const [left, right] = [20, 152];
  const pitch = Math.min(112, (height - HEAD - AXIS) / Math.max(1, corrections.length));
  const bottom = HEAD + pitch * corrections.length;
  const end =
    1.06 *
    Math.max(
      tolerance,
      ...corrections.flatMap(({ before, interval, next }) => [
        before,
        interval.high,
        next?.corrected.expected ?? 0,
      ]),
    );
  const scale = scaleOf(0, toDisplay(end, 'size', units), left, width - right, 6);
  const place = (value: number): number => scale.at(toDisplay(value, 'size', units));

  return (
    <>
      <text className="faint" x={left} y={12}>
        worst position, {unitWord('size', units)}
      </text>
      <text className="faint" x={width - 16} y={12} textAnchor="end">
        conform, of {formatCount(disc.result.summary.stations)}
      </text>
      <UprightLines scale={scale} top={HEAD} bottom={bottom} />
      {corrections.map((entry, index) => {
        const top = HEAD + index * pitch;
        const line = top + pitch / 2 + 9;
        const { kind, title, before, after, interval, next } = entry;
        const advice = adviceAgainst(entry, disc);
        return (
          <g
            key={kind}
            data-correction={kind}
            className={`cause-row ${advice === null ? 'cause' : 'noise'} ${kind === chosen ? 'chosen' : ''}`}
          >
            <rect className="row-ground" x={6} y={top + 1} width={width - 12} height={pitch - 2} rx={6} />
            {kind === chosen && (
              <rect
                className="row-mark"
                data-screen-only
                x={6}
                y={top + 5}
                width={3}
                height={pitch - 10}
                rx={1.5}
              />
            )}
            <text className="row-title" x={left} y={line - 18}>
              {title}
            </text>
            {advice !== null && (
              <text className="noise-words" x={width - right - 4} y={line - 18} textAnchor="end">
                {advice}
              </text>
            )}
            <path className="gain" d={`M${place(before)} ${line}H${place(after)}`} />
            <path className="gain-head" d={arrowHead(place(after), line, after < before)} />
            <circle className="before" cx={place(before)} cy={line} r={4.5} />
            <path
              className="whisker"
              d={`M${place(Math.max(0, interval.low))} ${line}H${place(interval.high)}m0 -5v10M${place(Math.max(0, interval.low))} ${line - 5}v10`}
            />
            <circle className="after" cx={place(after)} cy={line} r={5.5} />
            {next !== null && (
              <path className="next-disc" d={`M${place(next.corrected.expected)} ${line - 8}l5 -7h-10z`} />
            )}
            <text className="row-figure" x={width - 16} y={line - 14} textAnchor="end">
              {formatCount(disc.result.summary.conforming)} →{' '}
              {formatCount(conformingAfter(entry, disc.result.stations))}
            </text>
            <text className="faint" x={width - 16} y={line + 4} textAnchor="end">
              {formatValue(before, 'size', units)} → {formatValue(after, 'size', units)}
            </text>
            <Hit
              x={6}
              y={top + 1}
              width={width - 12}
              height={pitch - 2}
              title={spokenCorrection(entry, disc, units)}
              onClick={() => onChoose(kind)}
            />
          </g>
        );
      })}
      <path className="tolerance" d={`M${place(tolerance)} ${HEAD - 2}V${bottom + 2}`} />
      <text className="limit-text" x={place(tolerance)} y={bottom + 29} textAnchor="middle">
        tolerance {formatLimit(tolerance, 'size', units)}
      </text>
    </>
  );
}

/** Why a correction is not recommended, in two words; null: it is. */
function adviceAgainst(correction: Correction, disc: ReducedDisc): string | null {
  const objections = objectionsTo(correction, [], disc.result.stations);
  if (objections.length === 0) return null;
  return objections.includes('fewer') ? 'fewer conform' : 'chases noise';
}

/** A row in words. */
export function spokenCorrection(correction: Correction, disc: ReducedDisc, units: Units): string {
  const { title, before, after } = correction;
  const advice = adviceAgainst(correction, disc);
  const [from, to] = [formatValue(before, 'size', units), formatValue(after, 'size', units)];
  return `${title}: worst position ${from} before, ${to} after, ${conformingAfter(correction, disc.result.stations)} of ${disc.result.summary.stations} stations conform${advice === null ? '' : `, not recommended: ${advice}`}`;
}

/** Behind the mark of the corrected value, where the line comes from. */
function arrowHead(x: number, y: number, leftwards: boolean): string {
  const s = leftwards ? 1 : -1;
  return `M${x + 7 * s} ${y}l${8 * s} -4v8Z`;
}
