/** Datum features of the sample discs: each as the plan names it together with where the machine touches it. */
import type { Triple } from './motion.ts';
import type { Touched } from './scenario.ts';
import { annulus, ball, rectangle, tube } from './surfaces.ts';

export interface DatumFeature {
  /** The datum as it stands in the plan. */
  datum: object;
  touched: readonly Touched[];
}

/** The rectangle of points on a flat: along which direction it is long, its size (mm) and the number of points. */
interface Patch {
  along: Triple;
  length: number;
  width: number;
  columns: number;
  rows: number;
}

interface Named {
  label: string;
  feature: string;
}

/** A flat whose points lie on concentric rings about its nominal point. */
export function annularFace(
  spec: Named & { point: Triple; normal: Triple; radii: readonly number[]; perRing: number; form: number },
): DatumFeature {
  const { point, normal, radii, perRing, form } = spec;
  return {
    datum: plane(spec, point, normal),
    touched: [{ feature: spec.feature, points: annulus({ centre: point, normal, radii, perRing, form }) }],
  };
}

/** A flat whose points fill a rectangle about its nominal point. */
export function flat(spec: Named & { point: Triple; normal: Triple } & Patch): DatumFeature {
  const { label, feature, point, normal, ...patch } = spec;
  return {
    datum: plane(spec, point, normal),
    touched: [{ feature, points: rectangle({ centre: point, normal, ...patch }) }],
  };
}

/** A bore with rings of points at heights along its axis, from its nominal point. */
export function bore(
  spec: Named & {
    point: Triple;
    axis: Triple;
    radius: number;
    heights: readonly number[];
    perRing: number;
    form?: number;
  },
): DatumFeature {
  const { label, feature, point, axis, radius, ...rings } = spec;
  return {
    datum: {
      label,
      feature,
      type: 'cylinder',
      nominal: { point, direction: axis, radius },
      side: 'inside',
    },
    touched: [{ feature, points: tube({ point, axis, radius, side: 'inside', ...rings }) }],
  };
}

/** A ball touched from one side. */
export function touchedBall(
  spec: Named & {
    centre: Triple;
    radius: number;
    pole: Triple;
    latitudes: readonly number[];
    perRing: number;
  },
): DatumFeature {
  const { label, feature, ...sphere } = spec;
  return {
    datum: {
      label,
      feature,
      type: 'sphere',
      nominal: { point: sphere.centre, radius: sphere.radius },
      side: 'outside',
    },
    touched: [{ feature, points: ball(sphere) }],
  };
}

/** The mid-plane of a slot along x: faces `half` to either side of y = 0, touched `depth` below the nominal point. */
export function slot(spec: {
  label: string;
  features: readonly [left: string, right: string];
  point: Triple;
  half: number;
  depth: number;
  length: number;
  width: number;
  columns: number;
  rows: number;
}): DatumFeature {
  const { label, features, point, half, depth, ...size } = spec;
  const face = (feature: string, side: 1 | -1): Touched => ({
    feature,
    points: rectangle({
      centre: [point[0], point[1] + side * half, point[2] - depth],
      normal: [0, -side, 0],
      along: [1, 0, 0],
      ...size,
    }),
  });
  return {
    datum: { label, features, type: 'midplane', nominal: { point, direction: [0, 1, 0] } },
    touched: [face(features[0], 1), face(features[1], -1)],
  };
}

function plane({ label, feature }: Named, point: Triple, direction: Triple): object {
  return { label, feature, type: 'plane', nominal: { point, direction } };
}
