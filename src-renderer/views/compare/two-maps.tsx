import { type KeyboardEvent, useMemo, useRef } from 'react';
import type { ReducedDisc } from '../../../src-main/api.ts';
import { PictureButtons, type PictureFormat } from '../../chart/picture-tools.tsx';
import { formatJudged, standingText, type Units, unitWord } from '../../format/format.ts';
import { type QuantityName, quantityOf } from '../../format/quantities.ts';
import { downloadAddress, fileStem } from '../../parts/download.ts';
import type { PlotHandle } from '../../plot/plot.tsx';
import { type PlotColours, readPlotColours } from '../../plot/plot-colours.ts';
import { Dial } from '../polar-map/dial.tsx';
import { type MapMark, type MapScale, mapMarks, mapScale } from '../polar-map/marks.ts';

interface TwoMapsProps {
  readonly before: ReducedDisc;
  readonly after: ReducedDisc;
  readonly quantity: QuantityName;
  readonly units: Units;
  readonly dark: boolean;
  readonly selected: number | null;
  readonly marked: readonly number[];
  readonly onSelect: (station: number) => void;
  readonly onKey: (event: KeyboardEvent) => void;
}

/** Both discs around the same dial, with one scale. */
export function TwoMaps(props: TwoMapsProps) {
  const { before, after, quantity, units, dark } = props;
  const was = useMemo(() => mapMarks(before, quantity, units), [before, quantity, units]);
  const is = useMemo(() => mapMarks(after, quantity, units), [after, quantity, units]);
  const { kind } = quantityOf(quantity);
  const scale = useMemo(
    () => mapScale([...was, ...is], quantity, kind === 'rotation' ? 1e-3 : after.plan.tolerance, 'all'),
    [was, is, quantity, kind, after],
  );
  // biome-ignore lint/correctness/useExhaustiveDependencies: the colours change with the theme, which `dark` tells.
  const colours = useMemo(readPlotColours, [dark]);
  return (
    <>
      <OneMap {...props} title="Before" disc={before} marks={was} scale={scale} colours={colours} />
      <OneMap {...props} title="After" disc={after} marks={is} scale={scale} colours={colours} />
    </>
  );
}

interface OneMapProps extends TwoMapsProps {
  readonly title: 'Before' | 'After';
  readonly disc: ReducedDisc;
  readonly marks: readonly MapMark[];
  readonly scale: MapScale;
  readonly colours: PlotColours;
}

function OneMap(props: OneMapProps) {
  const { title, disc, marks, scale, colours, quantity, units, selected, marked, onSelect, onKey } = props;
  const plot = useRef<PlotHandle>(null);
  const { kind, title: quantityTitle } = quantityOf(quantity);
  const chosen = marks.find((mark) => mark.station === selected);
  const value = chosen?.value ?? null;
  const reading = [
    chosen === undefined ? '' : `Station ${chosen.station}`,
    chosen === undefined ? '' : value === null ? '–' : formatJudged(value, kind, units, chosen.limit),
    chosen === undefined ? '' : value === null ? standingText[chosen.standing] : unitWord(kind, units),
  ] as const;
  async function save(format: PictureFormat) {
    const address = await plot.current?.picture(format);
    if (address !== undefined)
      downloadAddress(`${fileStem(disc.plan.title)}-${quantity}-${title.toLowerCase()}.${format}`, address);
  }
  const worst = marks.reduce<MapMark | null>(
    (most, mark) => (mark.value !== null && Math.abs(mark.value) > Math.abs(most?.value ?? 0) ? mark : most),
    null,
  );
  return (
    <section className="one-map panel" aria-label={`${title}: ${quantityTitle}`}>
      <header className="chart-head">
        <div className="chart-title">
          <h2>
            {title}: {quantityTitle.toLowerCase()}
          </h2>
          <p className="caption">one scale for both, in {unitWord(kind, units)}</p>
        </div>
        <div className="chart-tools">
          <PictureButtons of={`the map ${title.toLowerCase()}`} onSave={(format) => void save(format)} />
        </div>
      </header>
      <Dial
        marks={marks}
        name={quantity}
        units={units}
        scale={scale}
        colours={colours}
        selected={selected}
        marked={marked}
        reading={reading}
        // The note on the scale stands in the head here: two narrow maps leave it no corner.
        noted={false}
        label={`${quantityTitle} ${title.toLowerCase()}, around the disc${worst === null ? '' : `, largest at station ${worst.station}: ${formatJudged(worst.value ?? 0, kind, units, worst.limit)} ${unitWord(kind, units)}`}. Both maps have one scale. Every value is in the table below. Arrow keys move the selection.`}
        handle={plot}
        pictureTitle={`${disc.plan.title}: ${quantityTitle.toLowerCase()}, ${title.toLowerCase()}`}
        onSelect={onSelect}
        onKey={onKey}
      />
    </section>
  );
}
