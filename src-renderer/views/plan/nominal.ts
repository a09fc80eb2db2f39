/** The nominal geometry of a draft, as far as it is written: for drawings and for what datums fix. */
import type { Datum, DatumDefinition, FeatureType } from '../../../shared-math/definition.ts';
import { meanPoint } from '../../../shared-math/frame/pattern-freedoms.ts';
import type { Vec3 } from '../../../shared-math/geometry/types.ts';
import { type Draft, type Json, listAt, numberAt, type Path, textAt, vectorAt } from './draft.ts';

const RADIANS = Math.PI / 180;

export const featureTypes = [
  'plane',
  'cylinder',
  'midplane',
  'circle',
  'line',
  'cone',
  'sphere',
  'point',
] as const satisfies readonly FeatureType[];

/** Types that have a radius; those that have no direction. */
export const roundTypes: ReadonlySet<string> = new Set(['circle', 'sphere', 'cylinder', 'cone']);
export const undirectedTypes: ReadonlySet<string> = new Set(['sphere', 'point']);

export interface DatumSketch {
  readonly path: Path;
  readonly label: string;
  readonly type: string;
  readonly features: readonly string[];
  readonly point: Vec3 | null;
  readonly direction: Vec3 | null;
  readonly radius: number | null;
  /** What the mathematics takes; null while something is missing. */
  readonly datum: Datum | null;
}

export function featureNames(datum: Json | undefined): readonly string[] {
  const several = listAt(datum, ['features']).filter((name) => typeof name === 'string' && name !== '');
  const single = textAt(datum, ['feature']);
  const members = listAt(datum, ['members']).flatMap(featureNames);
  return [...(single === '' ? [] : [single]), ...(several as string[]), ...members];
}

export function datumSketches(draft: Draft, owner: 'disc' | 'blade'): readonly DatumSketch[] {
  return listAt(draft, [owner, 'datums']).map((value, index) => {
    const label = textAt(value, ['label']);
    const type = textAt(value, ['type']);
    const members = listAt(value, ['members']);
    const definitions = members.map((member, k) => surface(`${label}.${k + 1}`, member));
    const complete = definitions.filter((member) => member !== null);
    const isPattern = type === 'pattern';
    const own = isPattern ? null : surface(label, value);
    const datum: Datum | null =
      isPattern && complete.length === members.length && members.length >= 2
        ? {
            label,
            type: 'pattern',
            features: complete.flatMap(({ features }) => features),
            nominal: {
              point: meanPoint(complete.map((member) => member.nominal.point)),
              direction: null,
              radius: null,
              halfAngle: null,
            },
            members: complete,
          }
        : own;
    return {
      path: [owner, 'datums', index],
      label,
      type,
      features: featureNames(value),
      point: datum?.nominal.point ?? vectorAt(value, ['nominal', 'point']),
      direction: vectorAt(value, ['nominal', 'direction']),
      radius: numberAt(value, ['nominal', 'radius']),
      datum,
    };
  });
}

function surface(label: string, value: Json): DatumDefinition | null {
  const type = textAt(value, ['type']) as FeatureType;
  const point = vectorAt(value, ['nominal', 'point']);
  const stated = vectorAt(value, ['nominal', 'direction']);
  const length = stated === null ? 0 : Math.hypot(...stated);
  if (!(featureTypes as readonly string[]).includes(type) || point === null) return null;
  const directed = !undirectedTypes.has(type);
  if (directed && (stated === null || length < 1e-9)) return null;
  const clocking = textAt(value, ['clocking']);
  return {
    label,
    features: featureNames(value),
    type,
    nominal: {
      point,
      direction:
        directed && stated !== null ? [stated[0] / length, stated[1] / length, stated[2] / length] : null,
      radius: numberAt(value, ['nominal', 'radius']),
      halfAngle: null,
    },
    side: null,
    material: 'negative',
    clocking:
      clocking === 'direction' || clocking === 'location'
        ? clocking
        : type === 'plane' || type === 'line'
          ? 'direction'
          : 'location',
    weights: 'equal',
    association: 'gaussian',
  };
}

/** Angles of all stations in degrees; null while the plan does not tell them. */
export function stationAngles(draft: Draft): readonly number[] | null {
  const stations = numberAt(draft, ['disc', 'stations']);
  if (stations === null || !Number.isInteger(stations) || stations < 1 || stations > 10_000) return null;
  const listed = listAt(draft, ['disc', 'angles']);
  if (listed.length > 0)
    return Array.from({ length: stations }, (_, k) => {
      const angle = listed[k];
      return typeof angle === 'number' ? angle : Number.NaN;
    });
  const sense = textAt(draft, ['disc', 'sense']);
  const first = numberAt(draft, ['disc', 'firstAngle']) ?? 0;
  const turn = sense === 'clockwise' ? -1 : 1;
  return Array.from({ length: stations }, (_, k) => first + (turn * k * 360) / stations);
}

export interface SeatSketch {
  readonly radius: number | null;
  readonly axial: number;
  /** rad */
  readonly height: number;
  readonly stagger: number;
}

export function seatSketch(draft: Draft): SeatSketch {
  const at = (key: string): number | null => numberAt(draft, ['blade', 'seat', key]);
  return {
    radius: at('radius'),
    axial: at('axial') ?? 0,
    height: (at('heightAngle') ?? 0) * RADIANS,
    stagger: (at('staggerAngle') ?? 0) * RADIANS,
  };
}

/** Features that the draft names, for the look at the points. */
export function knownNames(draft: Draft): {
  readonly stations: number;
  readonly hub: readonly string[];
  readonly blade: readonly string[];
} | null {
  const stations = numberAt(draft, ['disc', 'stations']);
  const hub = listAt(draft, ['disc', 'datums']).flatMap(featureNames);
  const blade = listAt(draft, ['blade', 'datums']).flatMap(featureNames);
  if (stations === null || !Number.isInteger(stations) || stations < 1 || stations > 10_000) return null;
  return hub.length === 0 || blade.length === 0 ? null : { stations, hub, blade };
}
