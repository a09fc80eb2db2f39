/**
 * The requirements of a plan as characteristics of QIF 3.0: a position for each check point of each planned station, and a
 * linear or an angular characteristic of the user for each limit on an error. Stations without a measurement are there as well,
 * as NOT_ANALYZED with the reason.
 */
import type { CheckPoint, LimitName } from '../../shared-math/definition.ts';
import { nominalBladeFrame } from '../../shared-math/frame/blade-frame.ts';
import type { Vec3 } from '../../shared-math/geometry/types.ts';
import { combine } from '../../shared-math/geometry/vector.ts';
import type {
  CheckPointResult,
  LimitResult,
  MissingStation,
  StationResult,
  Verdict,
} from '../../shared-math/result.ts';
import type { ReducedDisc } from '../api.ts';
import { ERROR_UNITS } from '../outputs/error-units.ts';
import { decimalText } from './decimal.ts';
import type { Characteristic } from './qif-aspects.ts';
import type { Named } from './qif-attributes.ts';
import { type Element, element } from './xml.ts';

const STATUS: Readonly<Record<Verdict, string>> = {
  conforming: 'PASS',
  nonconforming: 'FAIL',
  unproven: 'INDETERMINATE',
};

/** The standard knows no NOT_MEASURED for a characteristic, only for an inspection as a whole. */
const WITHOUT_VALUE = 'NOT_ANALYZED';

const WHAT_TO_MEASURE: Readonly<Record<LimitName, string>> = {
  oscillation: 'displacement of the blade origin along the oscillation direction of the blade frame',
  lateral: 'displacement of the blade origin along the lateral direction of the blade frame',
  upset: 'displacement of the blade origin along the upset direction of the blade frame',
  rotOscillation: 'rotation of the blade about the oscillation direction of the blade frame',
  rotLateral: 'rotation of the blade about the lateral direction of the blade frame',
  rotUpset: 'rotation of the blade about the upset direction of the blade frame',
  radial: 'displacement of the blade origin outwards from the disc axis',
  tangential: 'displacement of the blade origin towards growing angle about the disc axis',
  axial: 'displacement of the blade origin along the disc axis',
  lean: 'lean of the blade, positive towards growing angle about the disc axis',
  sweep: 'sweep of the blade, positive towards the section direction that rises along the disc axis',
  stagger: 'change of the stagger angle of the blade',
};

/** All characteristics, station by station. */
export function characteristicsOf({ result, definition }: ReducedDisc): readonly Characteristic[] {
  const measured = result.stations.map((station) => ({
    station: station.station,
    of: () => ofStation(station),
  }));
  const missing = result.summary.missing.map((station) => ({
    station: station.station,
    of: () => ofMissing(station, definition),
  }));
  return [...measured, ...missing].sort((a, b) => a.station - b.station).flatMap(({ of }) => of());
}

/** Where a nominal blade stands: its origin and the directions of its axes, in the disc frame. */
interface Place {
  readonly origin: Vec3;
  readonly axes: readonly [Vec3, Vec3, Vec3];
}

function ofStation(station: StationResult): readonly Characteristic[] {
  const unobserved = station.unobservable.map(({ freedom, reason }) => `${freedom}: ${reason}`).join('; ');
  const found = { ...station, reason: unobserved || 'not observed' };
  return [
    ...station.position.checkPoints.map((point) => position(found, station.nominal, point, errors(station))),
    ...station.limits.map((limit) => limited(found, limit)),
  ];
}

function ofMissing(
  { station, angle, reason }: MissingStation,
  { stations }: ReducedDisc['definition'],
): readonly Characteristic[] {
  const planned = stations.find((entry) => entry.station === station);
  if (planned === undefined) return [];
  const { rotation, translation } = nominalBladeFrame(planned.angle, planned.seat);
  const column = (k: 0 | 1 | 2): Vec3 => [rotation[0][k], rotation[1][k], rotation[2][k]];
  const place: Place = { origin: translation, axes: [column(0), column(1), column(2)] };
  const found = { station, angle, reason: `not measured: ${reason}` };
  const { checkPoints, limits } = planned.requirement;
  return [
    ...checkPoints.map((point) => position(found, place, { ...point, ...nothing }, [])),
    ...(Object.entries(limits) as [LimitName, number][]).map(([name, limit]) =>
      limited(found, { name, limit, ...nothing }),
    ),
  ];
}

/** What there is of a requirement that nothing was measured for. */
const nothing = { value: null, expanded: null, probability: null, verdict: 'unproven' as const };

interface Found {
  readonly station: number;
  readonly angle: number;
  /** Why values are absent, where they are. */
  readonly reason: string;
}

type Judged = Pick<LimitResult, 'value' | 'expanded' | 'probability' | 'verdict'>;

function position(
  { station, angle, reason }: Found,
  { origin, axes }: Place,
  point: CheckPoint & Judged & Partial<CheckPointResult>,
  errorsOfStation: readonly Named[],
): Characteristic {
  const turned = (v: Vec3): Vec3 => combine(1, combine(v[0], axes[0], v[1], axes[1]), v[2], axes[2]);
  const place = combine(1, origin, 1, turned(point.at));
  return {
    kind: 'Position',
    name: `Station ${station} position ${point.name}`,
    definition: (frame) => [
      element('ToleranceValue', {}, decimalText(point.tolerance)),
      element('DatumReferenceFrameId', {}, String(frame)),
      element('MaterialCondition', {}, 'NONE'),
      element('ZoneShape', {}, zone(point, axes[2], turned)),
    ],
    nominal: [],
    item: [
      ...stationAttributes(station, angle),
      ['check point', point.name],
      ['check point in blade frame mm', point.at.join(' ')],
      ['nominal place in disc frame mm', place.join(' ')],
    ],
    measurement: [
      ['expanded uncertainty mm', point.expanded],
      ['probability of conformity', point.probability],
      ['displacement in blade frame mm', point.displacement?.join(' ') ?? null],
      ...errorsOfStation,
    ],
    ...outcome(point, reason),
  };
}

/** The zone with its direction in the disc frame: the axis of a cylinder, the normal of two planes. */
function zone({ zone: shape, direction }: CheckPoint, upset: Vec3, turned: (v: Vec3) => Vec3): Element {
  const along = (v: Vec3): Element => element('ZoneOrientationVector', {}, v.join(' '));
  if (shape === 'spherical') return element('SphericalZone');
  if (shape === 'cylindrical') return element('DiametricalZone', {}, along(upset));
  return element('NonDiametricalZone', {}, direction === null ? null : along(turned(direction)));
}

function limited(
  { station, angle, reason }: Found,
  limit: Judged & Pick<LimitResult, 'name' | 'limit'>,
): Characteristic {
  const unit = ERROR_UNITS[limit.name];
  return {
    kind: unit === 'mm' ? 'UserDefinedLinear' : 'UserDefinedAngular',
    name: `Station ${station} ${limit.name}`,
    definition: () => [
      element(
        'Tolerance',
        {},
        element('MaxValue', {}, decimalText(limit.limit)),
        element('MinValue', {}, decimalText(-limit.limit)),
        element('DefinedAsLimit', {}, 'true'),
      ),
      element('WhatToMeasure', {}, WHAT_TO_MEASURE[limit.name]),
    ],
    nominal: [element('TargetValue', {}, '0')],
    item: stationAttributes(station, angle),
    measurement: [
      [`expanded uncertainty ${unit}`, limit.expanded],
      ['probability of conformity', limit.probability],
    ],
    ...outcome(limit, reason),
  };
}

function stationAttributes(station: number, angle: number): readonly Named[] {
  return [
    ['station', station],
    ['station angle degree', angle],
  ];
}

function outcome(
  { value, verdict }: Judged,
  reason: string,
): Pick<Characteristic, 'value' | 'status' | 'reason'> {
  return value === null
    ? { value, status: WITHOUT_VALUE, reason }
    : { value, status: STATUS[verdict], reason: null };
}

/** The twelve errors of the station, which the standard has no element for at a check point. */
function errors({ error, disc, uncertainty, verdict }: StationResult): readonly Named[] {
  const of = (values: Readonly<Partial<Record<LimitName, number | null>>>, before = ''): Named[] =>
    (Object.entries(values) as [LimitName, number | null][]).map(([name, value]) => [
      `${before}${name} ${ERROR_UNITS[name]}`,
      value,
    ]);
  return [
    ['verdict of the station', verdict],
    ...of({ ...error, ...disc }),
    ...of(uncertainty?.expanded ?? {}, 'expanded uncertainty of '),
  ];
}
