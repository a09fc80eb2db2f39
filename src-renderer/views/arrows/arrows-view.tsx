import type { ReactNode } from 'react';
import { ChartPanel } from '../../chart/chart-panel.tsx';
import { LegendItem } from '../../chart/legend-item.tsx';
import { countOf } from '../../format/format.ts';
import { fileStem } from '../../parts/download.ts';
import { useKept } from '../../state/kept.ts';
import type { DiagnosisProps } from '../causes/topics.ts';
import {
  arrowsSheet,
  bladeArrows,
  boreRadius,
  fittingMagnification,
  type Shown,
  shownWords,
} from './arrows.ts';
import { ArrowsControls } from './arrows-controls.tsx';
import { DiscArrows } from './disc-arrows.tsx';
import { SectionArrows } from './section-arrows.tsx';
import './arrows.css';

const measured: Shown = { of: 'measured', without: [], alone: null };

/** Displacements of the check points on the true geometry, at a stated magnification. */
export function ArrowsView(props: DiagnosisProps) {
  const { disc, diagnosis, units, selected, marked, onSelect, onKey } = props;
  const [shown, setShown] = useKept<Shown>(disc, 'arrows-shown', measured);
  const [chosen, setChosen] = useKept<number | null>(disc, 'arrows-magnification', null);
  const blades = bladeArrows(disc, diagnosis, shown);
  // One magnification for every choice, so that they can be compared.
  const fitting = fittingMagnification(bladeArrows(disc, diagnosis, measured));
  const magnification = chosen ?? fitting;
  const titles = new Map(diagnosis.components.map(({ name, title }) => [name, title]));
  const words = shownWords(shown, titles);
  const outside = blades.filter(({ arrows }) => arrows.some((arrow) => arrow.outside));
  const unknown = disc.result.stations.length - blades.length;
  const common = {
    onKey,
    sheet: arrowsSheet(blades, words, units),
    foot: <Legend outside={outside.length} of={blades.length} unknown={unknown} />,
  };
  const drawing = { blades, magnification, bore: boreRadius(disc), units, selected, marked, onSelect };
  const stem = `${fileStem(disc.plan.title)}-arrows-${fileStem(words)}`;
  return (
    <div className="arrows">
      <ArrowsControls
        components={diagnosis.components}
        leading={diagnosis.leading}
        shown={shown}
        onShown={setShown}
        magnification={magnification}
        fitting={fitting}
        onMagnification={setChosen}
      />
      <ChartPanel
        {...common}
        title="Seen from +Z"
        caption={`${words}, displacements ×${magnification}`}
        label={`Displacements of ${blades.length} blades seen from +Z, ${words}, magnified ${magnification} times. Arrow keys move the selection.`}
        fileName={`${stem}-from-z`}
        pictureTitle={`${disc.plan.title}: displacements ×${magnification}, ${words}`}
      >
        {(width, height) => <DiscArrows {...drawing} width={width} height={height} />}
      </ChartPanel>
      <ChartPanel
        {...common}
        title="Section"
        caption="all blades turned into one half plane"
        label={`Radial and axial displacements of ${blades.length} blades, ${words}, magnified ${magnification} times. Arrow keys move the selection.`}
        fileName={`${stem}-section`}
        pictureTitle={`${disc.plan.title}: section ×${magnification}, ${words}`}
        foot={<span>selected station in front</span>}
      >
        {(width, height) => <SectionArrows {...drawing} width={width} height={height} />}
      </ChartPanel>
    </div>
  );
}

function Legend(props: {
  readonly outside: number;
  readonly of: number;
  readonly unknown: number;
}): ReactNode {
  return (
    <>
      <LegendItem
        width={26}
        mark={
          <g className="arrow in">
            <path className="shaft" d="M3 6H18" />
            <path className="head" d="M24 6l-7 -3v6Z" />
            <circle className="foot" cx="3" cy="6" r="2.2" />
          </g>
        }
      >
        inside its zone
      </LegendItem>
      <LegendItem
        width={28}
        mark={
          <g className="arrow out">
            <path className="shaft" d="M5 6H20" />
            <path className="head" d="M26 6l-7 -3v6Z" />
            <path className="foot" d="M5 2l4 4l-4 4l-4 -4Z" />
          </g>
        }
      >
        outside, by its value alone: {props.outside} of {countOf(props.of, 'station')}
      </LegendItem>
      {props.unknown > 0 && (
        <span>{countOf(props.unknown, 'station')} not drawn: not every error is known</span>
      )}
    </>
  );
}
