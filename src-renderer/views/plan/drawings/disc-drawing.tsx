import { formatWritten } from '../../../format/format.ts';
import type { Draft } from '../draft.ts';
import { listAt, numberAt, placeKey, textAt } from '../draft.ts';
import { datumSketches, seatSketch, stationAngles } from '../nominal.ts';
import { arc, arrowHead, axisTypes, polar } from './shapes.ts';
import './drawings.css';

interface DiscDrawingProps {
  readonly draft: Draft;
  /** Path of the field at hand. */
  readonly focus: string | null;
}

/** Radius of the blade origins on the drawing, and where the blades end. */
const SEAT = 88;
const TIP = 122;
const NUMBERS = 134;
/** Of more stations than this only some are drawn: the others could not be told apart. */
const MOST_BLADES = 400;
/** More stations than this are not all numbered. */
const MOST_NUMBERS = 40;

/** The disc as seen from +Z: numbered stations, sense of rotation, first angle, seat radius, hub datums. */
export function DiscDrawing({ draft, focus }: DiscDrawingProps) {
  const angles = stationAngles(draft);
  const seat = seatSketch(draft);
  const scale = SEAT / (seat.radius ?? 240);
  const lit = (...paths: readonly string[]): string =>
    focus !== null && paths.some((path) => focus.startsWith(path)) ? ' lit' : '';
  // Without an angle of its own the first blade is drawn along X; the caption does not claim that it lies there.
  const first = angles?.[0];
  const isPlaced =
    numberAt(draft, ['disc', 'firstAngle']) !== null || listAt(draft, ['disc', 'angles']).length > 0;
  const second = angles?.[1];
  const count = angles?.length ?? 0;
  const thinned = Math.ceil(count / MOST_BLADES);
  const every = count <= MOST_NUMBERS ? 1 : count <= 100 ? 5 : Math.ceil(count / 20);
  const width = Math.max(1.6, Math.min(9, (0.42 * 2 * Math.PI * SEAT) / Math.max(count, 1)));
  const lean = width * (0.25 + 0.75 * Math.abs(Math.sin(seat.stagger)));
  return (
    <svg className="drawing disc-drawing" viewBox="-150 -150 300 300" role="img" aria-label={spoken(draft)}>
      <circle r={SEAT} className={`rim${lit('blade.seat.radius')}`} />
      <path d={`M${-SEAT - 6} 0H${SEAT + 6}M0 ${-SEAT - 6}V${SEAT + 6}`} className="axes" />
      <g transform="translate(-143 143)">
        <path d="M0 0H24M0 0V-24" className="axes solid" />
        <path d={`${arrowHead(24, 0, 0, 5)} ${arrowHead(0, -24, 90, 5)}`} className="axes-head" />
        <text x="27" y="3" className="axis-name">
          X
        </text>
        <text x="-3" y="-28" className="axis-name">
          Y
        </text>
      </g>
      {angles === null ? (
        <circle r={(SEAT + TIP) / 2} className="ghost" />
      ) : (
        angles.map((angle, index) =>
          Number.isNaN(angle) || index % thinned !== 0 ? null : (
            <g
              key={placeKey(index)}
              transform={`rotate(${-angle})`}
              className={index === 0 ? 'blade first' : 'blade'}
            >
              <path
                d={`M${SEAT} ${-lean / 2}L${TIP} ${-lean / 2 + lean * 0.2}V${lean / 2}L${SEAT} ${lean / 2 - lean * 0.2}Z`}
              />
            </g>
          ),
        )
      )}
      {angles?.map((angle, index) => {
        if (Number.isNaN(angle) || (index % every !== 0 && index !== count - 1)) return null;
        const [x, y] = polar(NUMBERS, angle);
        return (
          <text
            key={placeKey(index)}
            x={x}
            y={y + 3.4}
            className={`number${index === 0 ? ' first' : ''}${lit('disc.stations')}`}
          >
            {index + 1}
          </text>
        );
      })}
      <HubDatums draft={draft} scale={scale} focus={focus} />
      {first !== undefined && !Number.isNaN(first) && (
        <g className={`dimension${lit('disc.firstAngle', 'disc.angles')}`}>
          <path d={`M0 0L${polar(SEAT, first).join(' ')}`} />
          {first % 360 !== 0 && <path d={arc(40, 0, first)} />}
        </g>
      )}
      <g className="captions">
        <text x="146" y="122" className={lit('disc.firstAngle')}>
          {first === undefined || Number.isNaN(first) || !isPlaced
            ? 'θ₁ open'
            : `θ₁ ${formatWritten(first, 4)}°`}
        </text>
        <text x="146" y="135" className={lit('blade.seat.radius')}>
          {seat.radius === null ? 'R open' : `R ${seat.radius}`}
        </text>
        <text x="146" y="148" className={lit('disc.stations')}>
          {count === 0 ? 'N open' : `N ${count}`}
        </text>
      </g>
      {first !== undefined &&
        second !== undefined &&
        count > 2 &&
        textAt(draft, ['disc', 'sense']) !== '' && (
          <Sense
            from={first}
            clockwise={textAt(draft, ['disc', 'sense']) === 'clockwise'}
            lit={lit('disc.sense')}
          />
        )}
    </svg>
  );
}

function Sense({
  from,
  clockwise,
  lit,
}: {
  readonly from: number;
  readonly clockwise: boolean;
  readonly lit: string;
}) {
  const turn = clockwise ? -1 : 1;
  const start = from + turn * 14;
  const end = from + turn * 62;
  const [x, y] = polar(76, end);
  return (
    <g className={`sense${lit}`}>
      <path d={arc(76, start, end)} />
      <path d={arrowHead(x, y, end + turn * 90)} className="head" />
    </g>
  );
}

function HubDatums({ draft, scale, focus }: DiscDrawingProps & { readonly scale: number }) {
  const inside = (value: number): number => Math.max(-SEAT + 14, Math.min(SEAT - 14, value));
  return (
    <>
      {datumSketches(draft, 'disc').map((sketch, index) => {
        const { label, type, point, direction, radius } = sketch;
        const key = `disc.datums[${index}]`;
        const lit = focus?.startsWith(key) ? ' lit' : '';
        const isAxial = direction !== null && Math.abs(direction[2]) > 0.9 * Math.hypot(...direction);
        const [x, y] = point === null ? [0, 0] : [inside(point[0] * scale), inside(-point[1] * scale)];
        const isCentral = Math.hypot(x, y) < 4;
        const size = radius === null ? null : Math.max(3, Math.min(SEAT - 4, radius * scale));
        // Letters of central features stand apart around the axis.
        const [lx, ly] = isCentral
          ? polar(Math.max(26, (size ?? 20) + 13), 140 + 48 * index)
          : [inside(x * 1.32), inside(y * 1.32)];
        return (
          <g key={key} className={`datum-mark${lit}`}>
            {type === 'plane' && isAxial && <circle r={SEAT - 9} className="face" />}
            {size !== null && isAxial && <circle cx={x} cy={y} r={size} className="round" />}
            {!isAxial && direction !== null && (
              <path
                d={across(x, y, direction, type)}
                className={axisTypes.has(type) ? 'edge axis' : 'edge'}
              />
            )}
            {size !== null && !isAxial && <circle cx={x} cy={y} r={Math.min(size, 8)} className="round" />}
            {(type === 'point' || type === 'sphere') && <circle cx={x} cy={y} r="2.4" className="dot" />}
            <path
              d={`M${isCentral && size !== null ? polar(size, 140 + 48 * index).join(' ') : `${x} ${y}`}L${lx} ${ly}`}
              className="leader"
            />
            <rect x={lx - 7} y={ly - 7} width="14" height="14" rx="2" />
            <text x={lx} y={ly + 3.6}>
              {label === '' ? '?' : label.slice(0, 2)}
            </text>
          </g>
        );
      })}
    </>
  );
}

/** A plane that stands on edge in this view, a mid-plane with its two faces, or an axis that lies in it. */
function across(x: number, y: number, direction: readonly [number, number, number], type: string): string {
  const length = Math.hypot(direction[0], direction[1]) || 1;
  const [nx, ny] = [direction[0] / length, -direction[1] / length];
  if (axisTypes.has(type)) return `M${x - nx * 12} ${y - ny * 12}L${x + nx * 12} ${y + ny * 12}`;
  const line = (shift: number): string =>
    `M${x + nx * shift - ny * 11} ${y + ny * shift + nx * 11}L${x + nx * shift + ny * 11} ${y + ny * shift - nx * 11}`;
  return type === 'midplane' ? line(4) + line(-4) : line(0);
}

function spoken(draft: Draft): string {
  const stations = numberAt(draft, ['disc', 'stations']);
  const sense = textAt(draft, ['disc', 'sense']);
  const first = numberAt(draft, ['disc', 'firstAngle']);
  const radius = numberAt(draft, ['blade', 'seat', 'radius']);
  return [
    'The disc as seen from +Z',
    stations === null ? 'number of stations open' : `${stations} stations`,
    sense === '' ? null : `numbered ${sense}`,
    first === null ? null : `station 1 at ${first} degrees`,
    radius === null ? 'seat radius open' : `seat radius ${radius} millimetres`,
    ...datumSketches(draft, 'disc').map(({ label, type }) => `datum ${label}, ${type}`),
  ]
    .filter((part) => part !== null)
    .join(', ');
}
