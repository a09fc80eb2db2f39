import { type KeyboardEvent, type Ref, useMemo, useState } from 'react';
import { useSize } from '../../chart/use-size.ts';
import { toDisplay } from '../../format/format.ts';
import { quantityOf } from '../../format/quantities.ts';
import { VerdictMark } from '../../parts/verdict-mark.tsx';
import { Plot, type PlotHandle } from '../../plot/plot.tsx';
import { dialPlace, groundPath, pointAt, radiusAt, rangeMoved, sectorPath } from './dial-geometry.ts';
import { type DialReading, mapLayout, picturedLayout, scaleNote } from './layout.ts';
import { groundsOf, placeOnScale } from './marks.ts';
import { type MapOptions, mapData } from './series.ts';

interface DialProps extends MapOptions {
  readonly reading: DialReading;
  /** Whether the unit of the scale and the limit stand in the corner. */
  readonly noted: boolean;
  /** What the map shows, for people who hear the page. */
  readonly label: string;
  readonly pictureTitle: string;
  readonly handle: Ref<PlotHandle>;
  readonly onSelect: (station: number) => void;
  readonly onKey: (event: KeyboardEvent) => void;
}

/**
 * The dial with its stations. The plot draws what stays while the selection moves; the selection itself lies under and over
 * it, so that it follows in the same picture as table and card. Saved pictures are drawn by the plot alone.
 */
export function Dial(props: DialProps) {
  const { marks, name, units, scale, colours, selected, marked, reading, noted, handle, onSelect } = props;
  const [box, size] = useSize<HTMLElement>();
  const options = useMemo(
    () => ({ marks, name, units, scale, colours }),
    [marks, name, units, scale, colours],
  );
  const data = useMemo(() => mapData({ ...options, selected: null, marked: [] }), [options]);
  const layout = useMemo(() => mapLayout(options), [options]);
  const [zoom, setZoom] = useState<Zoom>({ revision: layout.uirevision, range: null });
  if (zoom.revision !== layout.uirevision) setZoom({ revision: layout.uirevision, range: null });

  const { kind } = quantityOf(name);
  const ends = [toDisplay(scale.from, kind, units), toDisplay(scale.to, kind, units)] as const;
  const range = zoom.range ?? ends;
  const place = dialPlace(size);
  const onDial = (value: number): number => radiusAt(place, range, toDisplay(value, kind, units));
  const kept = (radius: number): number => Math.max(place.hub, Math.min(place.rim, radius));
  const chosen = marks.find((mark) => mark.station === selected);
  const chosenRadius = chosen === undefined ? Number.NaN : onDial(placeOnScale(chosen, scale));
  const isInside = place.rim > 0 && chosenRadius >= place.hub && chosenRadius <= place.rim;
  const [x, y] = pointAt(place, chosen?.angle ?? 0, chosenRadius);
  const [head, value, foot] = reading;
  return (
    <figure
      ref={box}
      className="dial"
      // biome-ignore lint/a11y/noNoninteractiveTabindex: the arrow keys move the selection here.
      tabIndex={0}
      onKeyDown={props.onKey}
      aria-roledescription="polar map"
      aria-label={props.label}
    >
      {place.rim > 0 && (
        <svg className="dial-under" width={size.width} height={size.height} aria-hidden="true">
          <path className="dial-ground" fillRule="evenodd" d={groundPath(place)} />
          {groundsOf(marks, selected, marked).map(({ station, angle, width }) => (
            <path
              key={station}
              className="chosen-ground"
              data-station={station}
              d={sectorPath(place, angle, width, kept(onDial(scale.from)), kept(onDial(scale.to)))}
            />
          ))}
          <g className="dial-reading" textAnchor="middle" transform={`translate(${place.cx} ${place.cy})`}>
            <text className="head" y={-26}>
              {head}
            </text>
            <text className={value.length > 8 ? 'value long' : 'value'} y={value.length > 8 ? 2 : 4}>
              {value}
            </text>
            <text y={26}>{foot}</text>
          </g>
        </svg>
      )}
      <Plot
        data={data}
        layout={layout}
        pictured={() => ({
          data: mapData({ ...options, selected, marked }),
          layout: picturedLayout(options, range, reading, noted),
        })}
        handle={handle}
        pictureTitle={props.pictureTitle}
        pictureGround={colours.surface}
        onPick={(station) => {
          if (typeof station === 'number') onSelect(station);
        }}
        onMoved={(change) => {
          const moved = rangeMoved(change);
          if (moved !== null) setZoom({ revision: layout.uirevision, range: moved });
        }}
      />
      {chosen !== undefined && isInside && (
        <span
          className="chosen-mark"
          data-station={chosen.station}
          style={{ transform: `translate(${x}px, ${y}px)` }}
        >
          <VerdictMark standing={chosen.standing} />
        </span>
      )}
      {noted && place.rim > 0 && (
        <p className="scale-note" aria-hidden="true">
          {scaleNote(options).map((line) => (
            <span key={line}>{line}</span>
          ))}
        </p>
      )}
    </figure>
  );
}

/** The radial range that the person looks at, in the unit on view, for as long as the plot keeps it. */
interface Zoom {
  readonly revision: unknown;
  readonly range: readonly [number, number] | null;
}
