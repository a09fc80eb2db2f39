/** What the three-dimensional view draws, as plain data for the plot library. */
import type { Data } from 'plotly.js/lib/core';
import type { Vec3 } from '../../../shared-math/geometry/types.ts';
import type { DiscPoints } from '../../../src-main/api.ts';
import { formatWithUnit, type Standing, standingText, type Units } from '../../format/format.ts';
import type { PlotColours } from '../../plot/plot-colours.ts';
import { residualStops } from '../../plot/residual-colours.ts';
import type { FeatureName } from '../../state/exclusions.ts';
import { placeOfFeature } from '../features/points.ts';
import { type BladeFrame, moved } from './frames.ts';

export interface ScenePoint {
  readonly name: FeatureName;
  readonly line: number;
  readonly residual: number;
  readonly xyz: Vec3;
  readonly used: boolean;
}

export function scenePoints({ features }: DiscPoints): readonly ScenePoint[] {
  return features.flatMap(({ station, feature, lines, residual, xyz, excluded }) =>
    lines.map((line, i) => ({
      name: { station, feature },
      line,
      residual: residual[i] ?? 0,
      xyz: [xyz[3 * i] ?? 0, xyz[3 * i + 1] ?? 0, xyz[3 * i + 2] ?? 0] as const,
      used: excluded[i] !== true,
    })),
  );
}

/** Share of the points whose residuals the colours resolve; those beyond take the colour of the end. */
const RESOLVED = 0.98;

/** End of the colour scale over all features: few bad points must not wash out the others. */
export function sceneRange(points: readonly ScenePoint[]): number {
  const sizes = points
    .filter(({ used }) => used)
    .map(({ residual }) => Math.abs(residual))
    .sort((a, b) => a - b);
  return sizes[Math.min(sizes.length - 1, Math.floor(RESOLVED * sizes.length))] ?? 0;
}

/** What a press on a mark means. */
export type ScenePick =
  | { readonly kind: 'point'; readonly name: FeatureName; readonly line: number }
  | { readonly kind: 'station'; readonly station: number };

const symbols = {
  conforming: 'circle',
  nonconforming: 'diamond',
  unproven: 'square-open',
  missing: 'x',
} as const satisfies Record<Standing, string>;

interface SceneOptions {
  readonly points: readonly ScenePoint[];
  readonly range: number;
  readonly frames: readonly BladeFrame[];
  readonly magnification: number;
  readonly selected: number | null;
  readonly marked: readonly number[];
  /** Line of the chosen point. */
  readonly chosen: number | null;
  readonly units: Units;
  readonly colours: PlotColours;
  readonly dark: boolean;
}

export function sceneData(options: SceneOptions): Data[] {
  const { points, range, frames, magnification, selected, marked, chosen, units, colours, dark } = options;
  const used = points.filter((point) => point.used);
  const unused = points.filter((point) => !point.used);
  const near = points.filter(({ line }) => line === chosen);
  const picked = (list: readonly ScenePoint[]) => ({
    ...coordinates(list.map(({ xyz }) => xyz)),
    customdata: list.map(({ name, line }): ScenePick => ({ kind: 'point', name, line })),
    hovertext: list.map(
      ({ name, line, residual, used: isUsed }) =>
        `${placeOfFeature(name)}<br>line ${line}: ${formatWithUnit(residual, 'length', units)}${isUsed ? '' : ', not used'}`,
    ),
    hovertemplate: '%{hovertext}<extra></extra>',
  });
  const emphasised = (station: number): boolean => station === selected || marked.includes(station);
  const others = frames.filter(({ station }) => !emphasised(station));
  const ours = frames.filter(({ station }) => emphasised(station));
  const traces: unknown[] = [
    rim(frames, colours.ink2),
    frameLines(frames, 0, colours.ink2, 2, 'nominal'),
    frameLines(others, magnification, colours.brass, 3, 'displaced'),
    frameLines(ours, magnification, colours.ink, 7, 'selected'),
    {
      type: 'scatter3d',
      mode: 'markers',
      name: 'points',
      ...picked(used),
      marker: {
        size: used.length > 4000 ? 2.2 : 3.2,
        color: used.map(({ residual }) => residual),
        colorscale: residualStops(dark),
        cmin: -range,
        cmax: range,
        showscale: false,
        line: { width: 0 },
      },
    },
    {
      type: 'scatter3d',
      mode: 'markers',
      name: 'not used',
      ...picked(unused),
      marker: { size: 5, symbol: 'circle-open', color: colours.ink, line: { width: 1, color: colours.ink } },
    },
    {
      type: 'scatter3d',
      mode: 'markers',
      name: 'chosen',
      ...coordinates(near.map(({ xyz }) => xyz)),
      marker: { size: 12, symbol: 'circle-open', color: colours.ink },
      hoverinfo: 'skip',
    },
    {
      type: 'scatter3d',
      mode: 'text+markers',
      name: 'stations',
      ...coordinates(frames.map(({ upset }) => moved(upset, magnification))),
      text: frames.map(({ station }) => (station === selected ? `<b>${station}</b>` : String(station))),
      textposition: 'top center',
      textfont: { size: 13, color: colours.ink },
      customdata: frames.map(({ station }): ScenePick => ({ kind: 'station', station })),
      hovertext: frames.map(({ station, verdict }) => `Station ${station}<br>${standingText[verdict]}`),
      hovertemplate: '%{hovertext}<extra></extra>',
      marker: {
        size: frames.map(({ station }) => (emphasised(station) ? 8 : 6)),
        symbol: frames.map(({ verdict }) => symbols[verdict]),
        color: frames.map(({ verdict }) => colours[verdict]),
      },
    },
  ];
  return traces as Data[];
}

function coordinates(points: readonly Vec3[]) {
  return { x: points.map(([x]) => x), y: points.map(([, y]) => y), z: points.map(([, , z]) => z) };
}

/** The three axes of each blade frame as one trace with gaps. */
function frameLines(
  frames: readonly BladeFrame[],
  magnification: number,
  colour: string,
  width: number,
  name: string,
): unknown {
  const gap = [null, null, null] as const;
  const ends = frames.flatMap(({ origin, oscillation, lateral, upset }) =>
    [oscillation, lateral, upset].flatMap((end) => [
      moved(origin, magnification),
      moved(end, magnification),
      gap,
    ]),
  );
  return {
    type: 'scatter3d',
    mode: 'lines',
    name,
    x: ends.map(([x]) => x),
    y: ends.map(([, y]) => y),
    z: ends.map(([, , z]) => z),
    line: { color: colour, width },
    hoverinfo: 'skip',
  };
}

/** A line through the nominal blade origins, in the order of their angles. */
function rim(frames: readonly BladeFrame[], colour: string): unknown {
  const origins = frames
    .map(({ origin }) => origin.at)
    .sort((a, b) => Math.atan2(a[1], a[0]) - Math.atan2(b[1], b[0]));
  return {
    type: 'scatter3d',
    mode: 'lines',
    name: 'rim',
    ...coordinates([...origins, ...origins.slice(0, 1)]),
    line: { color: colour, width: 1 },
    hoverinfo: 'skip',
  };
}
