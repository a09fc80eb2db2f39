import type { Layout } from 'plotly.js/lib/core';
import { formatLimit, toDisplay, type Units, unitWord, withinTurn } from '../../format/format.ts';
import { type QuantityName, quantityOf } from '../../format/quantities.ts';
import type { PlotColours } from '../../plot/plot-colours.ts';
import { DIAL_MARGIN, HUB } from './dial-geometry.ts';
import { limitRings, type MapMark, type MapScale, valuesUnder } from './marks.ts';

/** More labels than this would run into each other on the smallest window. */
const mostLabels = 48;

/** The face of the theme, as the library takes it. */
const face = 'Plex, Liberation Sans, sans-serif';

/** Lines of the reading in the hub. */
export type DialReading = readonly [head: string, value: string, foot: string];

/** What a map shows, and how. */
export interface LayoutOptions {
  readonly marks: readonly MapMark[];
  readonly name: QuantityName;
  readonly units: Units;
  readonly scale: MapScale;
  readonly colours: PlotColours;
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
function quietGap(marks: readonly MapMark[]): { readonly middle: number; readonly width: number } {
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

/** The unit of the scale, and what the dashed rings are. */
export function scaleNote({ marks, name, units }: LayoutOptions): readonly string[] {
  const { kind } = quantityOf(name);
  const { common } = limitRings(marks);
  const scale = `scale in ${unitWord(kind, units)}`;
  return common === null
    ? [scale]
    : [
        scale,
        `dashed: ${kind === 'size' ? 'tolerance ' : '±'}${formatLimit(common, kind, units, valuesUnder(marks, common))}`,
      ];
}

/** The layout on the page: without what lies beside the plot there. */
export function mapLayout({ marks, name, units, scale, colours }: LayoutOptions): Partial<Layout> {
  const { kind } = quantityOf(name);
  const from = toDisplay(scale.from, kind, units);
  const to = toDisplay(scale.to, kind, units);
  const ticks = radialTicks(from, to);
  const every = Math.ceil(marks.length / mostLabels);
  const labelled = marks.filter((_, index) => index % every === 0);
  // The figures lie on the clockwise side of their axis, so it stands past the middle of the gap.
  const gap = quietGap(marks);
  const scaleAngle = gap.middle + gap.width * 0.25;
  return {
    paper_bgcolor: 'rgba(0,0,0,0)',
    plot_bgcolor: 'rgba(0,0,0,0)',
    margin: DIAL_MARGIN,
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
      hole: HUB,
      // Transparent, but by its lightness the library chooses how a drawn box looks.
      bgcolor: `${colours.dial}00`,
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
  };
}

/**
 * The layout of a saved picture: whole, with the reading of the selected station.
 *
 * @param range radial range on view, in the unit on view
 */
export function picturedLayout(
  options: LayoutOptions,
  range: readonly [number, number],
  reading: DialReading,
  noted: boolean,
): Partial<Layout> {
  const { colours } = options;
  const layout = mapLayout(options);
  const [head, value, foot] = reading;
  const text = { xref: 'paper', yref: 'paper', showarrow: false } as const;
  const centre = { ...text, x: 0.5, y: 0.5, xanchor: 'center' } as const;
  const small = { size: 11, color: colours.ink2, family: face };
  const note = {
    ...text,
    x: 0,
    y: 0,
    xanchor: 'left',
    yanchor: 'bottom',
    align: 'left',
    xshift: -20,
    yshift: -22,
    text: scaleNote(options).join('<br>'),
    font: small,
  } as const;
  return {
    ...layout,
    polar: {
      ...layout.polar,
      bgcolor: colours.dial,
      radialaxis: { ...layout.polar?.radialaxis, range: [...range] },
    },
    annotations: [
      { ...centre, yshift: 30, text: head, font: { ...small, size: 12 } },
      {
        ...centre,
        yshift: 4,
        text: value,
        font: { size: value.length > 8 ? 18 : 23, weight: 600, color: colours.ink, family: face },
      },
      { ...centre, yshift: -22, text: foot, font: small },
      ...(noted ? [note] : []),
    ],
  };
}
