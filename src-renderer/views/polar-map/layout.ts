import type { Layout } from 'plotly.js/lib/core';
import { formatLimit, toDisplay, type Units, unitWord, withinTurn } from '../../format/format.ts';
import { type QuantityKind, type QuantityName, quantityOf } from '../../format/quantities.ts';
import type { PlotColours } from '../../plot/plot-colours.ts';
import { limitRings, type MapMark, type MapScale } from './marks.ts';

/** Shares of the dial's radius that stay free in the middle for the reading of the selected station. */
const hub = 0.34;
/** More labels than this would run into each other on the smallest window. */
const mostLabels = 48;

/** How the note on the scale begins. */
export const SCALE_NOTE = 'scale in ';

interface LayoutOptions {
  readonly marks: readonly MapMark[];
  readonly name: QuantityName;
  readonly units: Units;
  readonly scale: MapScale;
  readonly colours: PlotColours;
  readonly face: string;
  /** Lines of the reading in the hub. */
  readonly reading: readonly [head: string, value: string, foot: string];
}

function round(value: number): number {
  const power = 10 ** Math.floor(Math.log10(value));
  const lead = value / power;
  return (lead >= 5 ? 5 : lead >= 2 ? 2 : 1) * power;
}

/** Round steps: three or four on each side of the start of the scale. */
export function radialTicks(from: number, to: number): readonly number[] {
  const step = round(to / (from < 0 ? 2 : 3));
  const count = Math.floor(to / step);
  const first = from < 0 ? -count : 0;
  return Array.from({ length: count - first + 1 }, (_, index) => (first + index) * step);
}

function tickText(value: number): string {
  const text = String(Number(Math.abs(value).toPrecision(6)));
  return value < 0 ? `−${text}` : value > 0 ? text : '0';
}

/** The gap between neighbours whose larger value is the smallest: the scale's figures are best read there. */
export function quietGap(marks: readonly MapMark[]): { readonly middle: number; readonly width: number } {
  const ring = marks
    .map((mark) => ({ angle: withinTurn(mark.angle), size: Math.abs(mark.value ?? 0) }))
    .sort((a, b) => a.angle - b.angle);
  const gaps = ring.map((mark, index) => {
    const next = ring[index + 1] ?? ring[0] ?? mark;
    const width = withinTurn(next.angle - mark.angle) || 360;
    return { middle: mark.angle + width / 2, width, size: Math.max(mark.size, next.size) };
  });
  return gaps.sort((a, b) => a.size - b.size)[0] ?? { middle: 60, width: 0 };
}

function ringNote(marks: readonly MapMark[], kind: QuantityKind, units: Units): string {
  const { common } = limitRings(marks);
  return common === null
    ? ''
    : `<br>dashed: ${kind === 'size' ? 'tolerance ' : '±'}${formatLimit(common, kind, units)}`;
}

export function mapLayout({
  marks,
  name,
  units,
  scale,
  colours,
  face,
  reading,
}: LayoutOptions): Partial<Layout> {
  const { kind } = quantityOf(name);
  const from = toDisplay(scale.from, kind, units);
  const to = toDisplay(scale.to, kind, units);
  const ticks = radialTicks(from, to);
  const every = Math.ceil(marks.length / mostLabels);
  const labelled = marks.filter((_, index) => index % every === 0);
  // The figures lie on the clockwise side of their axis, so it stands past the middle of the gap.
  const gap = quietGap(marks);
  const scaleAngle = gap.middle + gap.width * 0.25;
  const [head, value, foot] = reading;
  const centre = {
    x: 0.5,
    y: 0.5,
    xref: 'paper',
    yref: 'paper',
    xanchor: 'center',
    showarrow: false,
  } as const;
  return {
    paper_bgcolor: 'rgba(0,0,0,0)',
    plot_bgcolor: 'rgba(0,0,0,0)',
    margin: { l: 30, r: 30, t: 26, b: 26 },
    showlegend: false,
    // Without a drag mode the library reports no clicks on a polar plot.
    dragmode: 'zoom',
    // A zoom stays while only the selection changes.
    uirevision: `${name} ${units.length} ${units.rotation} ${to}`,
    hovermode: 'closest',
    hoverlabel: {
      bgcolor: colours.surface,
      bordercolor: colours.ink2,
      font: { family: face, size: 12, color: colours.ink },
      align: 'left',
    },
    font: { family: face, size: 11, color: colours.ink2 },
    polar: {
      domain: { x: [0, 1], y: [0, 1] },
      hole: hub,
      bgcolor: colours.dial,
      bargap: 0,
      angularaxis: {
        direction: 'counterclockwise',
        rotation: 0,
        tickmode: 'array',
        tickvals: labelled.map((mark) => withinTurn(mark.angle)),
        ticktext: labelled.map((mark) => String(mark.station)),
        tickfont: { size: 12, color: colours.ink, family: face },
        ticks: 'outside',
        ticklen: 5,
        tickcolor: colours.ink2,
        gridcolor: colours.line,
        linecolor: colours.ink2,
        linewidth: 1.5,
      },
      radialaxis: {
        range: [from, to],
        angle: scaleAngle,
        tickmode: 'array',
        tickvals: [...ticks],
        ticktext: ticks.map(tickText),
        // Turned back by the axis's own angle, so that the figures stand upright.
        tickangle: scaleAngle,
        tickfont: { size: 10, color: colours.ink2, family: face },
        ticks: '',
        gridcolor: colours.line,
        linecolor: colours.line,
        showline: false,
      },
    },
    annotations: [
      { ...centre, yshift: 30, text: head, font: { size: 12, color: colours.ink2, family: face } },
      {
        ...centre,
        yshift: 4,
        text: value,
        font: { size: value.length > 8 ? 18 : 23, weight: 600, color: colours.ink, family: face },
      },
      { ...centre, yshift: -22, text: foot, font: { size: 11, color: colours.ink2, family: face } },
      {
        x: 0,
        y: 0,
        xref: 'paper',
        yref: 'paper',
        xanchor: 'left',
        yanchor: 'bottom',
        align: 'left',
        xshift: -20,
        yshift: -22,
        showarrow: false,
        text: `${SCALE_NOTE}${unitWord(kind, units)}${ringNote(marks, kind, units)}`,
        font: { size: 11, color: colours.ink2, family: face },
      },
    ],
  };
}
