import { formatWritten } from '../../../format/format.ts';
import { type Draft, listAt, placeKey, textAt, vectorAt } from '../draft.ts';
import { type DatumSketch, datumSketches, seatSketch } from '../nominal.ts';
import { arc, arrowHead, axisTypes, clearAlong, polar } from './shapes.ts';
import './drawings.css';

interface BladeDrawingProps {
  readonly draft: Draft;
  readonly focus: string | null;
}

const DEGREES = 180 / Math.PI;

interface View extends BladeDrawingProps {
  readonly sketches: readonly DatumSketch[];
  readonly checkPoints: readonly { readonly name: string; readonly at: readonly [number, number, number] }[];
}

/** The blade frame in two views: section through the disc axis (height angle), and from the tip (stagger angle). */
export function BladeDrawing({ draft, focus }: BladeDrawingProps) {
  const sketches = datumSketches(draft, 'blade');
  const checkPoints = listAt(draft, ['blade', 'position', 'checkPoints']).flatMap((value) => {
    const at = vectorAt(value, ['at']);
    return at === null ? [] : [{ name: textAt(value, ['name']), at }];
  });
  const view = { draft, focus, sketches, checkPoints };
  const seat = seatSketch(draft);
  const spoken =
    `The blade frame: height angle ${+(seat.height * DEGREES).toFixed(3)} degrees, stagger angle ` +
    `${+(seat.stagger * DEGREES).toFixed(3)} degrees, datums ${sketches.map(({ label }) => label).join(', ') || 'none'}`;
  return (
    <svg className="drawing blade-drawing" viewBox="0 0 300 178" role="img" aria-label={spoken}>
      <SectionView {...view} />
      <TipView {...view} />
    </svg>
  );
}

const litBy = (focus: string | null, ...paths: readonly string[]): string =>
  focus !== null && paths.some((path) => focus.startsWith(path)) ? ' lit' : '';

function isAlongStack(direction: readonly [number, number, number]): boolean {
  return Math.abs(direction[2]) >= 0.7 * Math.hypot(...direction);
}

/** Letters that would stand on each other go into rows. */
function rowOf(before: readonly DatumSketch[], along: number, room: number): number {
  return before.filter(({ point }) => point !== null && Math.abs(point[2] - along) < room).length;
}

/** Radius to the right, +Z upwards. */
function SectionView({ draft, focus, sketches, checkPoints }: View) {
  const seat = seatSketch(draft);
  const height = seat.height * DEGREES;
  const length = Math.max(
    40,
    ...checkPoints.map(({ at }) => at[2]),
    ...sketches.map(({ point }) => point?.[2] ?? 0),
  );
  const scale = 86 / length;
  const [ox, oy] = [52, 108];
  return (
    <g transform={`translate(${ox} ${oy})`}>
      <text x={-46} y={-94} className="view-name">
        Section through the axis
      </text>
      <path d="M-46 -26H-16Q0 -26 0 -10V10Q0 26 -16 26H-46" className="hub-body" />
      <path d={`M-46 60H-10 M-46 60V24`} className="axes" />
      <path d={`${arrowHead(-10, 60, 0, 5)} ${arrowHead(-46, 24, 90, 5)}`} className="axes-head" />
      <text x={-6} y={63} className="axis-name">
        r
      </text>
      <text x={-44} y={20} className="axis-name">
        Z
      </text>
      <path d="M0 0H100" className="construction" />
      <g transform={`rotate(${-height})`}>
        <path
          d={`M0 -13L${length * scale} -9V9L0 13Z`}
          className={`blade-body${litBy(focus, 'blade.seat')}`}
        />
        <path d={`M0 0H${length * scale + 18}`} className="stack" />
        <path d={arrowHead(length * scale + 18, 0, 0, 6)} className="stack-head" />
        <text x={length * scale + 21} y={3.5} className="axis-name">
          u
        </text>
        {sketches.map((sketch, index) => {
          const { point, direction, label, type } = sketch;
          if (point === null) return null;
          const x = point[2] * scale;
          // What stands across the stacking axis shows its edge here, everything else where along the axis it lies.
          const isEdge = direction !== null && !axisTypes.has(type) && isAlongStack(direction);
          const row = rowOf(sketches.slice(0, index), point[2], 16 / scale);
          return (
            <g key={placeKey(index)} className={`datum-mark${litBy(focus, `blade.datums[${index}]`)}`}>
              {isEdge ? (
                <path d={`M${x} -15V15`} className="edge" />
              ) : (
                <circle cx={x} cy={0} r="2.2" className="dot" />
              )}
              <path d={`M${x} ${isEdge ? -15 : -2}V${-22 - 17 * row}`} className="leader" />
              <rect x={x - 7} y={-36 - 17 * row} width="14" height="14" rx="2" />
              <text x={x} y={-25.4 - 17 * row}>
                {label.slice(0, 2) || '?'}
              </text>
            </g>
          );
        })}
        {checkPoints.map(({ name, at }, index) => (
          <g
            key={placeKey(index)}
            className={`check-point${litBy(focus, `blade.position.checkPoints[${index}]`)}`}
          >
            <circle cx={at[2] * scale} cy={0} r="3.4" />
            <text x={at[2] * scale} y={24}>
              {name}
            </text>
          </g>
        ))}
      </g>
      {Math.abs(height) > 0.01 && (
        <g className={`dimension${litBy(focus, 'blade.seat.heightAngle')}`}>
          <path d={arc(92, 0, height)} />
          <text x={46} y={34}>
            {`φ ${formatWritten(height, 3)}°`}
          </text>
        </g>
      )}
      {seat.radius !== null && (
        <text
          x={-38}
          y={50}
          className={`dimension-text start${litBy(focus, 'blade.seat.radius', 'blade.seat.axial')}`}
        >
          {`R ${seat.radius}   Z ${formatWritten(seat.axial, 4)}`}
        </text>
      )}
    </g>
  );
}

/** Side of a letter's box and the gap to the next. */
const BOX_ROOM = 16;

/** What the view from the tip shows of the datums, in the turned frame of the profile; the outermost letters first. */
function tipMarks(sketches: readonly DatumSketch[], scale: number, stagger: number) {
  const [cos, sin] = [Math.cos(stagger / DEGREES), Math.sin(stagger / DEGREES)];
  const upright: (readonly [number, number])[] = [];
  const marks = sketches.flatMap(({ point, direction, label, type }, index) => {
    if (point === null || direction === null || isAlongStack(direction)) return [];
    // (o, l) to the drawing: o upwards, l to the left.
    const [x, y] = [-point[1] * scale, -point[0] * scale];
    const length = Math.hypot(direction[0], direction[1]) || 1;
    const [nx, ny] = [-direction[1] / length, -direction[0] / length];
    const isAxis = axisTypes.has(type);
    const [tx, ty] = isAxis ? [nx, ny] : [-ny, nx];
    const turned = ([u, v]: readonly [number, number]) => [u * cos - v * sin, u * sin + v * cos] as const;
    const ray = (out: number) => [x + nx * out, y + ny * out] as const;
    const out = clearAlong((distance) => turned(ray(distance)), isAxis ? 24 : 15, upright, BOX_ROOM);
    const box = ray(out);
    upright.push(turned(box));
    return [
      {
        index,
        isAxis,
        label,
        box,
        edge: `M${x - tx * 16} ${y - ty * 16}L${x + tx * 16} ${y + ty * 16}`,
        leader: `M${x} ${y}L${box[0]} ${box[1]}`,
      },
    ];
  });
  // No leader crosses the letter of another that stands before it.
  return marks.reverse();
}

/** Seen from the tip towards the axis: growing angles to the right, the axial side upwards. */
function TipView({ draft, focus, sketches, checkPoints }: View) {
  const seat = seatSketch(draft);
  const stagger = seat.stagger * DEGREES;
  const reach = Math.max(
    12,
    ...sketches.map(({ point, direction }) =>
      point === null || direction === null || Math.abs(direction[2]) > 0.7 * Math.hypot(...direction)
        ? 0
        : Math.hypot(point[0], point[1]),
    ),
    ...checkPoints.map(({ at }) => Math.hypot(at[0], at[1])),
  );
  const scale = 34 / reach;
  const marks = tipMarks(sketches, scale, stagger);
  return (
    <g transform="translate(238 92)">
      <text x={-42} y={-78} className="view-name">
        From the tip
      </text>
      <path d="M0 0V-62 M0 0H58" className="axes" />
      <path d={`${arrowHead(0, -62, 90, 5)} ${arrowHead(58, 0, 0, 5)}`} className="axes-head" />
      <text x={-9} y={-57} className="axis-name">
        a
      </text>
      <text x={50} y={12} className="axis-name">
        e
        <tspan dy="2.5" className="index">
          t
        </tspan>
      </text>
      {/* The profile's long side lies along o, which is upwards before the stagger turns it to the right. */}
      <g transform={`rotate(${stagger})`}>
        <ellipse rx="8" ry="36" className={`blade-body${litBy(focus, 'blade.seat')}`} />
        <path d="M0 46V-58" className="stack" />
        <path d={arrowHead(0, -58, 90, 6)} className="stack-head" />
        <text x={3} y={-60} className="axis-name" transform={`rotate(${-stagger} 3 -60)`}>
          o
        </text>
        <path d="M0 0H-46" className="stack" />
        <path d={arrowHead(-46, 0, 180, 6)} className="stack-head" />
        <text x={-53} y={-3} className="axis-name" transform={`rotate(${-stagger} -50 -3)`}>
          l
        </text>
        {marks.map(({ index, edge, isAxis, leader, box, label }) => (
          <g key={placeKey(index)} className={`datum-mark${litBy(focus, `blade.datums[${index}]`)}`}>
            <path d={edge} className={isAxis ? 'edge axis' : 'edge'} />
            <path d={leader} className="leader" />
            <g transform={`rotate(${-stagger} ${box[0]} ${box[1]})`}>
              <rect x={box[0] - 7} y={box[1] - 7} width="14" height="14" rx="2" />
              <text x={box[0]} y={box[1] + 3.6}>
                {label.slice(0, 2) || '?'}
              </text>
            </g>
          </g>
        ))}
      </g>
      {Math.abs(stagger) > 0.01 && (
        <g className={`dimension${litBy(focus, 'blade.seat.staggerAngle')}`}>
          <path d={arc(50, 90, 90 - stagger)} />
          <text x={polar(62, 90 - stagger / 2)[0]} y={polar(62, 90 - stagger / 2)[1] + 3}>
            {`ξ ${formatWritten(stagger, 3)}°`}
          </text>
        </g>
      )}
    </g>
  );
}
