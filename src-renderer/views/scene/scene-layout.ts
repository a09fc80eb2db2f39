/** Room, axes and camera of the three-dimensional view. */
import type { Layout } from 'plotly.js/lib/core';
import type { Vec3 } from '../../../shared-math/geometry/types.ts';
import { ticksBetween, tickText } from '../../chart/scale.ts';
import { placeUnits, toDisplay, type Units, unitSymbol } from '../../format/format.ts';
import type { PlotColours } from '../../plot/plot-colours.ts';
import { type Camera, cameraLayout } from './camera.ts';
import type { BladeFrame } from './frames.ts';
import type { ScenePoint } from './scene-data.ts';

export interface SceneBox {
  readonly middle: Vec3;
  /** Longest side, mm. */
  readonly longest: number;
  /** Half sides, mm. */
  readonly half: Vec3;
}

/** Room for everything at any magnification that fits. */
export function sceneBox(points: readonly ScenePoint[], frames: readonly BladeFrame[]): SceneBox {
  const places = [
    ...points.map(({ xyz }) => xyz),
    ...frames.flatMap(({ origin, upset }) => [origin.at, upset.at]),
  ];
  const ends = [0, 1, 2].map((axis) => {
    const values = places.map((place) => place[axis] ?? 0);
    return [values.reduce((a, b) => Math.min(a, b), 0), values.reduce((a, b) => Math.max(a, b), 0)] as const;
  });
  const middle = ends.map(([low, high]) => (low + high) / 2) as unknown as Vec3;
  const longest = ends.reduce((most, [low, high]) => Math.max(most, high - low), 1);
  // The largest drawn displacement is a sixth of the radius; labels stand beyond it.
  const half = ends.map(([low, high]) => (high - low) / 2 + 0.12 * longest) as unknown as Vec3;
  return { middle, longest: longest * 1.24, half };
}

/** A place of the disc frame in the lengths of the camera. */
export function inScene({ middle, longest }: SceneBox, place: Vec3): readonly [number, number, number] {
  return [
    (place[0] - middle[0]) / longest,
    (place[1] - middle[1]) / longest,
    (place[2] - middle[2]) / longest,
  ];
}

export function sceneLayout(
  { middle, half, longest }: SceneBox,
  camera: Camera,
  colours: PlotColours,
  face: string,
  units: Units,
): Partial<Layout> {
  const shown = placeUnits(units);
  const factor = toDisplay(1, 'length', shown);
  const axis = (index: 0 | 1 | 2, title: string) => {
    const range = [middle[index] - half[index], middle[index] + half[index]] as const;
    const ticks = ticksBetween(range[0] * factor, range[1] * factor, 5);
    return {
      title: { text: `${title}, ${unitSymbol('length', shown)}`, font: { size: 12, color: colours.ink2 } },
      range: [...range],
      showbackground: false,
      showspikes: false,
      gridcolor: colours.line,
      zerolinecolor: colours.ink2,
      tickfont: { size: 10, color: colours.ink2 },
      tickmode: 'array',
      tickvals: ticks.map((tick) => tick / factor),
      ticktext: ticks.map(tickText),
    };
  };
  return {
    paper_bgcolor: 'rgba(0,0,0,0)',
    margin: { l: 0, r: 0, t: 0, b: 0 },
    showlegend: false,
    font: { family: face, size: 11, color: colours.ink2 },
    hoverlabel: {
      bgcolor: colours.surface,
      bordercolor: colours.ink2,
      font: { family: face, size: 12, color: colours.ink },
      align: 'left',
    },
    scene: {
      aspectmode: 'manual',
      aspectratio: { x: (2 * half[0]) / longest, y: (2 * half[1]) / longest, z: (2 * half[2]) / longest },
      camera: cameraLayout(camera),
      dragmode: 'turntable',
      xaxis: axis(0, 'X'),
      yaxis: axis(1, 'Y'),
      zaxis: axis(2, 'Z'),
    },
  } as Partial<Layout>;
}
